//go:build js

// Package lobes draws a cam drum unrolled for the panels: a lane for each seat.
package lobes

import (
	"brinebench/game/cycle"
	"brinebench/game/dom"
	"brinebench/game/say"
	"brinebench/sim"
)

// The chart of a drum unrolled, in px of its own.
const (
	wide = 360.0
	lane = 20.0
	left = 96.0
)

// Chart draws a drum unrolled: a lane for each seat, in the order of the drawing, dark
// where a lobe lifts it.
// above is room over the lanes; aloud says it to those who do not see it.
func Chart(lobe *[sim.NumSeats][180]float64, above float64, aloud string) (svg dom.Node, high float64) {
	high = above + lane*float64(len(lobe))
	svg = dom.SVG("svg", dom.Attrs{"class": "lobes", "role": "img", "viewBox": "0 0 " + dom.Decimals(left+wide+6, 0) + " " + dom.Decimals(high+16, 0)})
	svg.SetAttr("aria-label", aloud)
	for row, seat := range sim.SeatRow {
		y := above + lane*float64(row)
		svg.Add(dom.SVG("text", dom.Attrs{"x": dom.Decimals(left-6, 0), "y": dom.Decimals(y+14, 0), "class": "axis end"}, say.Sim(seat.String())),
			dom.SVG("path", dom.Attrs{"class": "grid", "d": "M" + dom.Decimals(left, 0) + " " + dom.Decimals(y+lane, 0) + "h" + dom.Decimals(wide, 0)}))
		for _, r := range cycle.Lifted(lobe[seat][:]) {
			svg.Add(dom.SVG("rect", dom.Attrs{"class": "lobe", "x": dom.Decimals(left+2*float64(r[0]), 0), "y": dom.Decimals(y+4, 0), "width": dom.Decimals(2*float64(r[1]-r[0]), 0), "height": dom.Decimals(lane-8, 0)}))
		}
	}
	return svg, high
}

// Needle is the line at an angle of a chart.
func Needle(deg, from, high float64) dom.Node {
	return dom.SVG("path", dom.Attrs{"class": "needle", "d": "M" + dom.Decimals(left+deg, 1) + " " + dom.Decimals(from, 0) + "V" + dom.Decimals(high+12, 0)})
}

// Letter names an angle over the lanes.
func Letter(deg float64, letter string) dom.Node {
	return dom.SVG("text", dom.Attrs{"class": "axis letter", "x": dom.Decimals(left+deg, 1), "y": "13"}, letter)
}
