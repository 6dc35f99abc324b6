package ears

import (
	"io"
	"time"
)

// Paced plays a reader in its own time: of bytesPerSecond, as if it were live.
// Its clock starts with the first byte that is asked for. It is the one edge of
// the package where time passes; what is heard does not depend on it.
func Paced(r io.Reader, bytesPerSecond int) io.Reader {
	return &paced{r: r, rate: bytesPerSecond, now: time.Now, sleep: time.Sleep}
}

type paced struct {
	r     io.Reader
	rate  int
	begun time.Time
	given int64
	now   func() time.Time
	sleep func(time.Duration)
}

// piece is how much of a second is given at a time.
const piece = 50

// Read waits until what it gives would have been heard.
func (p *paced) Read(b []byte) (int, error) {
	if p.begun.IsZero() {
		p.begun = p.now()
	}
	n, err := p.r.Read(b[:min(len(b), max(1, p.rate/piece))])
	p.given += int64(n)
	due := p.begun.Add(time.Duration(float64(p.given) / float64(p.rate) * float64(time.Second)))
	if early := due.Sub(p.now()); early > 0 {
		p.sleep(early)
	}
	return n, err
}
