package reading

import "sync"

// abreast calls run for 0 to n-1 at the same time and returns when all are
// done.
func abreast(n int, run func(i int)) {
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() { run(i) })
	}
	all.Wait()
}
