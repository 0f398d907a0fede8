package window

import "sync"

// errands are what other goroutines want done on that of the user interface, in
// their order. The toolkit (fyne v2.7.1) does one of its own for every frame at
// the worst, so that an answer behind fifty reports of progress would come
// seconds late on a busy machine: here all that wait are done at once.
type errands struct {
	do func(func()) // brings one to the user interface; it may be done at once

	mu    sync.Mutex
	queue []func()
}

// post has fn done soon, after all that were posted before.
func (e *errands) post(fn func()) {
	e.mu.Lock()
	e.queue = append(e.queue, fn)
	first := len(e.queue) == 1
	e.mu.Unlock()
	if first {
		e.do(e.run)
	}
}

// run does what waits now; what is posted meanwhile comes the next time.
func (e *errands) run() {
	e.mu.Lock()
	queue := e.queue
	e.queue = nil
	e.mu.Unlock()
	for _, fn := range queue {
		fn()
	}
}
