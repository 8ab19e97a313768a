// Package qr draws QR codes.
package qr

import (
	"strconv"
	"strings"

	encoder "rsc.io/qr"
)

// Path returns the QR code of a text as the path of a drawing, one unit to a module, and
// how many units the drawing is across, the quiet zone of four modules included
// (ISO/IEC 18004). An error tells that the text is too long.
func Path(text string) (path string, across int, err error) {
	const quiet = 4
	level := encoder.M
	if len(text) > 600 { // a code of many modules is hard enough to read
		level = encoder.L
	}
	code, err := encoder.Encode(text, level)
	if err != nil {
		return "", 0, err
	}
	var b strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; {
			n := 0
			for x+n < code.Size && code.Black(x+n, y) {
				n++
			}
			if n > 0 {
				b.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + "h" + strconv.Itoa(n) + "v1h-" + strconv.Itoa(n) + "z")
			}
			x += max(n, 1)
		}
	}
	return b.String(), code.Size + 2*quiet, nil
}
