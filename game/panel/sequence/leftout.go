//go:build js

package sequence

import (
	"slices"

	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// askBack asks once whether an answer is meant that leaves out what was asked for. A class's
// drill goes on without: there nothing may be the answer of who does not know.
func (c *Page) askBack() bool {
	left := c.leftOut()
	if left == "" || c.asked || c.task != nil {
		return false
	}
	c.asked = true
	dom.ByID("answer").Become(dom.El("p", dom.Attrs{"class": "refused", "role": "alert"}, say.Text(left)))
	return true
}

// leftOut is the text of what the answer leaves out, "" where nothing.
func (c *Page) leftOut() string {
	switch kind := c.Drill.Exercise().Kind; {
	case kind == sim.ReadDrum && slices.Contains(c.names, ""):
		return "cycle.left-out.marks"
	case (kind == sim.SetSeats || kind == sim.ReadDrum) && c.set == sim.Seats{}:
		return "cycle.left-out.seats"
	case kind == sim.TracePath && len(c.way) == 0:
		return "cycle.left-out.way"
	}
	return ""
}

// unasked takes back what askBack asked: something was set.
func (c *Page) unasked() {
	if c.asked {
		c.asked = false
		dom.ByID("answer").Become()
	}
}
