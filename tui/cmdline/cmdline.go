// Package cmdline splits a command line that a user set (a recorder, a speech
// program) into its arguments, so that it can be started without a shell.
package cmdline

import (
	"errors"
	"strings"
)

// Split cuts a line at spaces. Single and double quotes keep spaces together,
// and a backslash outside single quotes takes the next character as it is; but
// one before a letter or a digit stays, as paths of one system need it. Nothing
// is expanded: no variable, no pattern, no pipe.
func Split(line string) ([]string, error) {
	var out []string
	var word strings.Builder
	in, quote := false, rune(0)
	rs := []rune(line)
	for i := 0; i < len(rs); i++ {
		c := rs[i]
		switch {
		case c == 0 || c == '\n' || c == '\r':
			return nil, errors.New("a command must stand on one line: remove the line break from it")
		case c == '\\' && quote != '\'' && i+1 < len(rs) && !plain(rs[i+1]):
			i++
			word.WriteRune(rs[i])
			in = true
		case quote != 0 && c == quote:
			quote = 0
		case quote == 0 && (c == '\'' || c == '"'):
			quote, in = c, true
		case quote == 0 && (c == ' ' || c == '\t'):
			if in {
				out = append(out, word.String())
				word.Reset()
			}
			in = false
		default:
			word.WriteRune(c)
			in = true
		}
	}
	if quote != 0 {
		return nil, errors.New("a quote in the command is not closed: add the missing " + string(quote))
	}
	if in {
		out = append(out, word.String())
	}
	if len(out) == 0 || out[0] == "" {
		return nil, errors.New("the command is empty: name a program, with its arguments if it needs any")
	}
	return out, nil
}

func plain(c rune) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '.' || c == '_'
}
