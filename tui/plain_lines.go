package tui

import (
	"bufio"
	"errors"
	"io"
)

// longestLine is far more than anybody types; what is longer was sent by mistake.
const longestLine = 64 << 10

var errLongLine = errors.New("that line is longer than 64 kB and nothing of it was taken: send shorter ones")

// lineReader reads lines of any length and keeps at most longestLine of each.
type lineReader struct{ in *bufio.Reader }

func newLineReader(in io.Reader) lineReader { return lineReader{bufio.NewReader(in)} }

// next gives a line without its end, or errLongLine, after which the following
// line can be read. The last line need not be ended.
func (l lineReader) next() (string, error) {
	var line []byte
	long := false
	for {
		part, err := l.in.ReadSlice('\n')
		if long = long || len(line)+len(part) > longestLine; !long {
			line = append(line, part...)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && (!errors.Is(err, io.EOF) || len(line) == 0 && !long):
			return "", err
		case long:
			return "", errLongLine
		}
		return string(line), nil
	}
}
