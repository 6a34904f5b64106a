package geometry

import (
	"fmt"
	"runtime/debug"
	"sync"
)

// Panic is a panic of one of the goroutines of SideBySide.
type Panic struct {
	Value any
	Stack []byte // where it happened
}

func (p Panic) String() string { return fmt.Sprint(p.Value) }

// SideBySide calls work with 0 to n-1, each in a goroutine of its own, and
// returns when all are done. A panic in one of them is raised again here, as a
// Panic, once the others are done: there the caller can recover from it, which
// nobody can from another goroutine.
func SideBySide(n int, work func(i int)) {
	var wg sync.WaitGroup
	var once sync.Once
	var caught *Panic
	for i := range n {
		wg.Add(1)
		go func() {
			defer wg.Done()
			defer func() {
				if v := recover(); v != nil {
					p := Panic{v, debug.Stack()}
					once.Do(func() { caught = &p })
				}
			}()
			work(i)
		}()
	}
	wg.Wait()
	if caught != nil {
		panic(*caught)
	}
}
