package window

import (
	"slices"
	"sync"
	"testing"
)

// One turn of the user interface does all that waits, in order.
func TestAllThatWaitsIsDoneInOneTurn(t *testing.T) {
	var turns []func()
	e := errands{do: func(fn func()) { turns = append(turns, fn) }}
	var done []int
	for i := range 5 {
		e.post(func() {
			done = append(done, i)
			if i == 4 {
				e.post(func() { done = append(done, 5) })
			}
		})
	}
	if len(turns) != 1 {
		t.Fatalf("five errands ask for %d turns", len(turns))
	}
	turns[0]()
	if !slices.Equal(done, []int{0, 1, 2, 3, 4}) || len(turns) != 2 {
		t.Fatalf("the first turn did %v, %d were asked for", done, len(turns))
	}
	turns[1]()
	if !slices.Equal(done, []int{0, 1, 2, 3, 4, 5}) {
		t.Errorf("done: %v", done)
	}
}

func TestErrandsFromManyGoroutinesAreAllDone(t *testing.T) {
	turns := make(chan func(), 10000)
	e := errands{do: func(fn func()) { turns <- fn }}
	count := 0 // only the turns touch it
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 1000 {
				e.post(func() { count++ })
			}
		})
	}
	ended := make(chan struct{})
	go func() { all.Wait(); close(ended) }()
	for open := true; open; {
		select {
		case fn := <-turns:
			fn()
		case <-ended:
			open = false
		}
	}
	for len(turns) > 0 {
		(<-turns)()
	}
	if count != 8000 {
		t.Errorf("%d of 8000 were done", count)
	}
}
