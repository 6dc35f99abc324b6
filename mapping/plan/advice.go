package plan

import "fmt"

// What to do where no fuse and no wire of the tables will do.
const (
	noWayFuse    = "no fuse both carries that and spares its thinnest wire, so make that thicker or move loads to another way"
	noWireSize   = "no size in the tables carries that behind its fuse, so split the load over several wires or take a smaller fuse"
	noChargeFuse = "no blade fuse is that large, so take a smaller alternator or a bolted fuse, and mark this as expected"
)

// propose words a rating or a size that was worked out, or says what to do
// where there is none: "take 0 A" is no advice.
func propose(x float64, advice, none string) string {
	if x <= 0 {
		return none
	}
	return fmt.Sprintf(advice, trim(x))
}
