//go:build js

package panel

import "syscall/js"

// store, stored and drop use the browser's storage, which may be full, and which a
// private window may refuse: they report whether it did as it was told.

func store(key, text string) (done bool) {
	defer func() { _ = recover() }()
	js.Global().Get("localStorage").Call("setItem", key, text)
	return true
}

func stored(key string) (text string, done bool) {
	defer func() { _ = recover() }()
	if v := js.Global().Get("localStorage").Call("getItem", key); !v.IsNull() {
		text = v.String()
	}
	return text, true
}

func drop(key string) {
	defer func() { _ = recover() }()
	js.Global().Get("localStorage").Call("removeItem", key)
}
