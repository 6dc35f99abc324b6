package mapping

import (
	"strconv"
	"strings"
)

// Resistance writes ohms as a meter shows them, in ohm, kohm or Mohm and never
// with an exponent. Six places are more than any meter has; they keep sums of
// fractions from showing what no meter said.
func Resistance(ohms float64) string {
	unit := " ohm"
	switch {
	case ohms >= 1e6:
		ohms, unit = ohms/1e6, " Mohm"
	case ohms >= 1e3:
		ohms, unit = ohms/1e3, " kohm"
	}
	s := strconv.FormatFloat(ohms, 'f', 6, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + unit
}
