package sheet

import "slices"

// share gives columns their widths: each what it would like, or less where that
// is more than there is; the widest give way first, none goes under its least
// (unless there is not even room for that).
func share(like, least []float64, room float64) []float64 {
	sum := func(limit float64) float64 {
		t := 0.0
		for i := range like {
			t += max(min(like[i], limit), min(least[i], like[i]))
		}
		return t
	}
	out := slices.Clone(like)
	if sum(1e9) <= room {
		return out
	}
	lo, hi := 0.0, slices.Max(like)
	for range 60 {
		mid := (lo + hi) / 2
		if sum(mid) <= room {
			lo = mid
		} else {
			hi = mid
		}
	}
	for i := range out {
		out[i] = max(min(like[i], lo), min(least[i], like[i]))
	}
	if t := sum(lo); t > room {
		for i := range out {
			out[i] *= room / t
		}
	}
	return out
}
