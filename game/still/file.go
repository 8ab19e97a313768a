package still

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/png"
	"slices"
)

// colours is how many a file has: the faces, and the commonest of their soft edges, each
// unlike the others by so much at least.
const colours, unlike = 24, 24

// PNG writes a picture as a file, small: with its commonest colours alone.
func PNG(m *image.RGBA) []byte {
	counts := map[color.RGBA]int{}
	for i := 0; i < len(m.Pix); i += 4 {
		counts[pixel(m, i)]++
	}
	var few color.Palette
	for _, c := range commonest(counts) {
		few = append(few, c)
	}
	nearest := map[color.RGBA]uint8{}
	out := image.NewPaletted(m.Rect, few)
	for i := range out.Pix {
		c := pixel(m, 4*i)
		k, known := nearest[c]
		if !known {
			k = uint8(few.Index(c))
			nearest[c] = k
		}
		out.Pix[i] = k
	}
	var file bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	if err := encoder.Encode(&file, out); err != nil {
		panic("still: " + err.Error()) // into memory, of a size that is not 0
	}
	return file.Bytes()
}

func pixel(m *image.RGBA, i int) color.RGBA {
	return color.RGBA{m.Pix[i], m.Pix[i+1], m.Pix[i+2], m.Pix[i+3]}
}

// commonest returns the colours that count most, always in the same order.
func commonest(counts map[color.RGBA]int) (few []color.RGBA) {
	var all []color.RGBA
	for c := range counts {
		all = append(all, c)
	}
	code := func(c color.RGBA) uint32 { return uint32(c.R)<<16 | uint32(c.G)<<8 | uint32(c.B) }
	slices.SortFunc(all, func(a, b color.RGBA) int {
		return cmp.Or(cmp.Compare(counts[b], counts[a]), cmp.Compare(code(a), code(b)))
	})
	for _, c := range all {
		if !slices.ContainsFunc(few, func(f color.RGBA) bool { return apart(c, f) < unlike }) {
			few = append(few, c)
		}
		if len(few) == colours {
			break
		}
	}
	return few
}

// apart is how far two colours differ, summed over red, green and blue.
func apart(a, b color.RGBA) int {
	gap := func(x, y uint8) int { return max(int(x)-int(y), int(y)-int(x)) }
	return gap(a.R, b.R) + gap(a.G, b.G) + gap(a.B, b.B)
}
