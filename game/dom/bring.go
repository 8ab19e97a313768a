//go:build js

package dom

import "syscall/js"

// BringUp scrolls a section up to the tabs, however many rows these take, so that
// nothing between the two is seen cut off. Where the tabs scroll away they are brought up
// too, for one of them has the focus.
func BringUp(section Node) {
	if tabs := ByID("sections"); js.Global().Call("getComputedStyle", tabs.Value).Get("position").String() != "sticky" {
		tabs.Call("scrollIntoView")
		return
	}
	section.Call("scrollIntoView")
	edge := func(n Node, side string) float64 { return n.Call("getBoundingClientRect").Get(side).Float() }
	js.Global().Call("scrollBy", 0, edge(section, "top")-edge(ByID("sections"), "bottom")-2)
}
