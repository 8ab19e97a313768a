//go:build js

package panel

import (
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

// told is a text of the page that can be told again in another language; the zero
// value is none.
type told struct {
	id   string
	args []any
}

func (t told) String() string {
	if t.id == "" {
		return ""
	}
	return say.Text(t.id, t.args...)
}

// wholeMinutes writes the minutes of the call that are over.
func wholeMinutes(m float64) string { return say.Number(math.Floor(m), 0) }

// minuteOf writes a tick as minutes of the call.
func minuteOf(tick int64) string { return wholeMinutes(float64(tick) * sim.TickS / 60) }

// costOf is what a call has cost by the whole minutes that are told beside it.
func costOf(c *sim.Call) float64 {
	return c.Cost - sim.TokensPerMinute*(c.Minutes-math.Floor(c.Minutes))
}

// tokens writes a cost in whole tokens, which are no currency's.
func tokens(cost float64) string { return say.Text("tokens", int(math.Round(cost+roundUp))) }

// roundUp has a half that sums have left a hair short counted as one.
const roundUp = 1e-6
