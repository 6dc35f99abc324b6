package sheet

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

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

// tight is how a text table gives way where it is too wide, step by step: the
// longest word that a column keeps whole, and the gap between columns. What is
// shorter than the last (a size, a number, a wire's name) is never broken, since
// half a number is another number.
func tight() []struct {
	whole int
	gap   string
} {
	type step = struct {
		whole int
		gap   string
	}
	var out []step
	for whole := 24; whole > 12; whole-- {
		out = append(out, step{whole, "  "})
	}
	for whole := 12; whole >= 7; whole-- {
		out = append(out, step{whole, "  "}, step{whole, " "})
	}
	return out
}

// textWidths gives the columns of a table in text their widths, and what stands
// between two of them. A column with nothing in it has none.
func textWidths(t table) (widths []int, gap string) {
	n := len(t.head)
	like, word := make([]float64, n), make([]float64, n)
	used := 0
	for i := range n {
		for _, r := range append([][]string{t.head}, t.rows...) {
			like[i] = max(like[i], float64(ansi.StringWidth(r[i])))
			for _, w := range strings.Fields(r[i]) {
				word[i] = max(word[i], float64(ansi.StringWidth(w)))
			}
			if r[i] == tick || r[i] == blank {
				word[i] = max(word[i], float64(len(r[i])))
			}
		}
		if like[i] > 0 {
			used++
		}
	}
	least := make([]float64, n)
	room := 0.0
	for _, step := range tight() {
		gap = step.gap
		room = float64(textWidth - len(gap)*(used-1))
		sum := 0.0
		for i := range least {
			least[i] = min(float64(step.whole), word[i])
			sum += least[i]
		}
		if sum <= room {
			break
		}
	}
	return wholeColumns(share(like, least, room), like), gap
}

// wholeColumns rounds widths down to whole columns.
func wholeColumns(shares, like []float64) []int {
	out := make([]int, len(shares))
	for i, v := range shares {
		out[i] = int(v + 1e-9)
		if like[i] > 0 {
			out[i] = max(1, out[i])
		}
	}
	return out
}

// pad fills a text up to a width in columns of a terminal.
func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-ansi.StringWidth(s)))
}
