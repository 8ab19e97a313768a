//go:build js

package dom

import "syscall/js"

// Query reads a field of the page's address, "" when it is missing.
func Query(field string) string {
	v := js.Global().Get("URLSearchParams").New(js.Global().Get("location").Get("search")).Call("get", field)
	if v.IsNull() {
		return ""
	}
	return v.String()
}
