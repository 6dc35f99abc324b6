package inference

import (
	"math/rand/v2"
	"runtime"
	"sync"
)

// together lets a walker do the same for a number of chains on all cores. Each
// gets a walker with random numbers of its own, so that the outcome does not
// depend on how many cores there are. f may touch nothing but its own chain's.
func (w *walker) together(n int, f func(w *walker, i int)) {
	seeds := make([]uint64, n)
	for i := range seeds {
		seeds[i] = w.rng.Uint64()
	}
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		own := w.fork()
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				own.rng = rand.New(rand.NewPCG(4, seeds[i]))
				f(own, i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// fork is a walker over the same readings with room of its own to work in.
func (w *walker) fork() *walker {
	c := *w
	c.touched = make([]uint64, w.words)
	c.scratch, c.stray = hyp{}, nil
	return &c
}
