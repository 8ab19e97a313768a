//go:build js

package dom

import (
	"errors"
	"syscall/js"
)

// ErrRefused is why a promise was not kept where the browser gives no better reason.
var ErrRefused = errors.New("dom: refused by the browser")

// Await waits for a promise. It must not be called in an event's own turn, which it
// would wait for: begin a goroutine there.
func Await(promise js.Value) (js.Value, error) {
	return ended(func(yes, no js.Func) { promise.Call("then", yes, no) })
}

// ended waits until one of two callbacks has been called, and returns what it was given.
func ended(begin func(yes, no js.Func)) (js.Value, error) {
	type end struct {
		value js.Value
		good  bool
	}
	done := make(chan end, 1)
	take := func(good bool) js.Func {
		return js.FuncOf(func(_ js.Value, args []js.Value) any {
			v := js.Undefined()
			if len(args) > 0 {
				v = args[0]
			}
			done <- end{v, good}
			return nil
		})
	}
	yes, no := take(true), take(false)
	defer yes.Release()
	defer no.Release()
	begin(yes, no)
	e := <-done
	if !e.good {
		return e.value, ErrRefused
	}
	return e.value, nil
}
