//go:build js

package panel

import (
	"math"
	"strconv"

	"brinebench/game/say"
	"brinebench/sim"
)

// decimals writes x with n decimals for the machine: a drawing, an attribute.
func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }

// percent writes a share, 0..1, in whole per cent.
func percent(share float64) string { return say.Number(math.Round(100*share), 0) + "\u00a0%" }

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

// heard are texts of the engine in the language spoken.
func heard(english []string) []string {
	said := make([]string, len(english))
	for i, s := range english {
		said[i] = say.Sim(s)
	}
	return said
}

// quote makes a string safe inside a selector.
func quote(s string) string { return strconv.Quote(s) }

// wholeMinutes writes the minutes of the call that are over.
func wholeMinutes(m float64) string { return say.Number(math.Floor(m), 0) }

// minuteOf writes a tick as minutes of the call.
func minuteOf(tick int64) string { return wholeMinutes(float64(tick) * sim.TickS / 60) }
