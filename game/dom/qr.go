//go:build js

package dom

import (
	"strconv"

	"brinebench/game/qr"
)

// QR is the QR code of a text, dark on light in any theme. An error tells that the text
// is too long.
func QR(text, label string) (Node, error) {
	path, across, err := qr.Path(text)
	if err != nil {
		return Node{}, err
	}
	size := strconv.Itoa(across)
	return SVG("svg", Attrs{"class": "code", "viewBox": "0 0 " + size + " " + size, "role": "img", "aria-label": label, "shape-rendering": "crispEdges"},
		SVG("rect", Attrs{"width": size, "height": size, "fill": "#fff"}), SVG("path", Attrs{"d": path, "fill": "#000"})), nil
}
