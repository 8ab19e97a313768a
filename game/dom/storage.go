//go:build js

package dom

import (
	"strings"
	"syscall/js"
)

// store, stored and drop use the browser's storage, which may be full, and which a
// private window may refuse: they report whether it did as it was told.

// storage is the browser's. Where it is closed, reading the name throws, and only
// what a call throws is a panic in Go; a plain Get would end the program.
func storage() js.Value {
	return js.Global().Get("Reflect").Call("get", js.Global(), "localStorage")
}

func Store(key, text string) (done bool) {
	defer func() { _ = recover() }()
	storage().Call("setItem", key, text)
	return true
}

func Stored(key string) (text string, done bool) {
	defer func() { _ = recover() }()
	if v := storage().Call("getItem", key); !v.IsNull() {
		text = v.String()
	}
	return text, true
}

func Drop(key string) {
	defer func() { _ = recover() }()
	storage().Call("removeItem", key)
}

// Keep, Recall and Forget use the browser's storage, which a private window may
// refuse; Keep reports whether it was kept.
func Keep(key, value string) (kept bool) { return Store("brinebench-"+key, value) }

func Recall(key string) string {
	value, _ := Stored("brinebench-" + key)
	return value
}

func Forget(key string) { Drop("brinebench-" + key) }

// KeptKeys lists what keep has kept.
func KeptKeys() (keys []string) {
	defer func() { _ = recover() }()
	kept := storage()
	for i := range kept.Get("length").Int() {
		if key, ours := strings.CutPrefix(kept.Call("key", i).String(), "brinebench-"); ours {
			keys = append(keys, key)
		}
	}
	return keys
}
