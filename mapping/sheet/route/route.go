// Package route places boxes in three columns and leads wires between them,
// orthogonally, through the two channels between the columns.
//
// Lengths are whole units of one grid, the pitch: a row is a unit high. Rows of
// the outer columns lie on whole units and rows of the middle column half a
// unit lower, so that two wires that enter a channel from opposite sides never
// meet at one height. In a channel every net runs up and down on one track; a
// wire touches nothing but the channel it runs in, so it cannot cross a box.
// What is left to search is the order of boxes, rows and tracks with the fewest
// crossings: annealing from a fixed seed, so the same problem gives the same
// drawing.
package route

// Column is one of the three columns.
type Column int

// The columns.
const (
	Left Column = iota
	Centre
	Right
)

// Row is one line of a box at which wires may land: its name, unique in the
// whole drawing, and its height in units.
type Row struct {
	Name   string
	Height int
}

// Box stands in a column. Head and Foot are the units above the first row and
// under the last; Fixed keeps its rows in the order given. Bare marks a box
// that only lets a wire through.
type Box struct {
	Name       string
	Column     Column
	Head, Foot int
	Rows       []Row
	Fixed      bool
	Bare       bool
}

// Wire joins two rows.
type Wire struct{ From, To string }

// Problem is what is to be drawn. Gap is the number of units between two boxes
// of a column.
type Problem struct {
	Boxes []Box
	Wires []Wire
	Gap   int
}

// Pin is where a net leaves a column: the side of the channel (true: the right
// one) and the height in units.
type Pin struct {
	Row   string
	Right bool
	Y     float64
}

// Net is what is joined in one channel: its wires (indices of the problem's),
// its pins, and the track on which it runs from its highest pin to its lowest.
type Net struct {
	Channel int // 0: between left and centre, 1: between centre and right
	Track   int
	Pins    []Pin
	Wires   []int
}

// Placed is a box in its place: Top and Height in units, rows in their order
// with the height of each row's middle.
type Placed struct {
	Box
	Top, Height float64
	RowY        []float64
}

// Layout is a drawing in units. Tracks is the number of tracks of each
// channel; Crossings counts the places where two nets cross.
type Layout struct {
	Boxes     []Placed
	Nets      []Net
	Tracks    [2]int
	Height    float64
	Crossings int
}

// Span gives the highest and the lowest pin of a net.
func (n Net) Span() (top, bottom float64) {
	top, bottom = n.Pins[0].Y, n.Pins[0].Y
	for _, p := range n.Pins {
		top, bottom = min(top, p.Y), max(bottom, p.Y)
	}
	return top, bottom
}
