package sheet

const (
	columnGap  = 18.0 // between the columns of a narrow table, in points
	longEnough = 12   // rows, from which on a narrow table is worth columns
)

func sum(xs []float64) float64 {
	t := 0.0
	for _, x := range xs {
		t += x
	}
	return t
}

// beside is in how many columns a long and narrow table is set: as many as stand
// beside one another, where each of its rows is one line.
func (s *setter) beside(t table, widths []float64) int {
	n := int((pageW - 2*pageEdge + columnGap) / (sum(widths) + columnGap))
	if len(t.rows) < longEnough || n < 2 {
		return 1
	}
	for _, r := range t.rows {
		if lineCount(s.lines(r, widths, false)) > 1 {
			return 1
		}
	}
	return n
}

// columns sets a table in so many columns, each under a head of its own and about
// as long as the others; it goes on on the next page where one is full.
func (s *setter) columns(t table, widths []float64, n int) {
	const high = bodyLead + 3
	head := s.lines(t.head, widths, true)
	for rows := t.rows; len(rows) > 0; {
		s.need(2*high + float64(lineCount(head))*bodyLead)
		fits := max(1, int((pageH-36-s.y-float64(lineCount(head))*bodyLead-3)/high))
		each := min(fits, (len(rows)+n-1)/n)
		top, low := s.y, s.y
		for c := 0; c < n && len(rows) > 0; c++ {
			s.y = top
			x := pageEdge + float64(c)*(sum(widths)+columnGap)
			s.row(x, t.head, head, widths, true)
			for _, r := range rows[:min(each, len(rows))] {
				s.row(x, r, s.lines(r, widths, false), widths, false)
			}
			rows = rows[min(each, len(rows)):]
			low = max(low, s.y)
		}
		s.y = low
	}
}
