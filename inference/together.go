package inference

import (
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
)

// together lets a walker do the same for a number of chains on all cores. Each
// gets a walker with random numbers of its own, so that the outcome does not
// depend on how many cores there are. f may touch nothing but its own chain's.
func (w *walker) together(n int, f func(w *walker, i int)) {
	seeds := make([]uint64, n)
	for i := range seeds {
		seeds[i] = w.rng.Uint64()
	}
	onCores(n, func(next func() (int, bool)) {
		own := w.fork()
		for i, ok := next(); ok; i, ok = next() {
			own.rng = rand.New(rand.NewPCG(4, seeds[i]))
			f(own, i)
		}
	})
}

// parallel does n things that have nothing to do with each other, on all cores.
func parallel(n int, f func(i int)) {
	onCores(n, func(next func() (int, bool)) {
		for i, ok := next(); ok; i, ok = next() {
			f(i)
		}
	})
}

// onCores runs f on each core that has something to do; next hands out the
// numbers under n, each once.
func onCores(n int, f func(next func() (int, bool))) {
	var taken atomic.Int64
	next := func() (int, bool) {
		i := int(taken.Add(1)) - 1
		return i, i < n
	}
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() { f(next) })
	}
	wg.Wait()
}

// fork is a walker over the same readings with room of its own to work in.
func (w *walker) fork() *walker {
	c := *w
	c.touched, c.moved = make([]uint64, w.words), make([]uint64, w.words)
	c.scratch, c.stray, c.table = hyp{}, nil, netTable{}
	return &c
}
