//go:build js

package panel

import (
	"math"
	"strconv"

	"brinebench/sim"
)

// decimals writes x with n decimals, or with as many as it needs when n is -1.
func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }

// percent writes a share, 0..1, in whole per cent.
func percent(share float64) string { return decimals(math.Round(100*share), 0) + "\u00a0%" }

// quote makes a string safe inside a selector.
func quote(s string) string { return strconv.Quote(s) }

// wholeMinutes writes the minutes of the call that are over.
func wholeMinutes(m float64) string { return decimals(math.Floor(m), 0) }

// minuteOf writes a tick as minutes of the call.
func minuteOf(tick int64) string { return wholeMinutes(float64(tick) * sim.TickS / 60) }
