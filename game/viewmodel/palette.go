package viewmodel

import "image/color"

// Role names what a line or face stands for; a Palette gives it a colour.
type Role uint8

// The roles of static art.
const (
	Ground   Role = iota // the plate itself
	Paper                // empty insides: open tanks, dial faces, cards
	Cut                  // cut face of a metal or moulded part
	Hatch                // hatching on cut faces
	Shell                // face of a part seen from outside
	Shade                // darker face of a part seen from outside
	Ink                  // outlines and lettering
	InkSoft              // secondary lines and lettering
	Faint                // construction lines, scales
	SaltFace             // salt
	Grit                 // foreign matter in an opened part
	Wrong                // what is broken, worn or out of its place in an opened part; an alarm
	Unlit                // the controller's face without power
	UnlitInk             // lettering on it
	NumRoles
)

// Palette gives every role its colour, and the few colours of moving things.
type Palette struct {
	Role   [NumRoles]color.RGBA
	Liquid color.RGBA // liquid of the brine tank, which has no known hardness
	Light  color.RGBA // marks on dark water
	Dark   color.RGBA // marks on light water
	Air    color.RGBA
}

func rgb(v uint32) color.RGBA {
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 0xff}
}

// Palettes of the two themes. Lettering has a contrast of at least 4.5:1 on
// ground and paper, drawn lines at least 3:1.
var (
	lightPalette = Palette{
		Role: [NumRoles]color.RGBA{
			Ground: rgb(0xe6e1d7), Paper: rgb(0xf7f4ed), Cut: rgb(0xd9d2c4), Hatch: rgb(0xa2998a),
			Shell: rgb(0xcdc5b6), Shade: rgb(0xb0a797), Ink: rgb(0x27231d), InkSoft: rgb(0x615a4f),
			Faint: rgb(0xb9b1a3), SaltFace: rgb(0xfffdf8), Grit: rgb(0x6d3f22),
			Wrong: rgb(0xa8320a), Unlit: rgb(0x3a352d), UnlitInk: rgb(0xcfc7b8),
		},
		Liquid: rgb(0xb9c3c4), Light: rgb(0xf5f1e6), Dark: rgb(0x1d1a15), Air: rgb(0xffffff),
	}
	darkPalette = Palette{
		Role: [NumRoles]color.RGBA{
			Ground: rgb(0x23211e), Paper: rgb(0x191815), Cut: rgb(0x3b3732), Hatch: rgb(0x69625a),
			Shell: rgb(0x4a453e), Shade: rgb(0x353129), Ink: rgb(0xded7c9), InkSoft: rgb(0xb2a999),
			Faint: rgb(0x575149), SaltFace: rgb(0xcfc9bd), Grit: rgb(0xc98a5b),
			Wrong: rgb(0xff9466), Unlit: rgb(0x060605), UnlitInk: rgb(0x9a9081),
		},
		Liquid: rgb(0x46545a), Light: rgb(0xf5f1e6), Dark: rgb(0x1d1a15), Air: rgb(0xffffff),
	}
)

// PaletteFor returns the palette of the light or dark theme.
func PaletteFor(dark bool) *Palette {
	if dark {
		return &darkPalette
	}
	return &lightPalette
}

// strong makes a palette plainer: ground and paper white or black, all lettering
// and lines at full contrast.
func strong(p Palette, ground, ink uint32) Palette {
	p.Role[Ground], p.Role[Paper], p.Role[Ink], p.Role[InkSoft] = rgb(ground), rgb(ground), rgb(ink), rgb(ink)
	p.Role[Cut] = Mix(rgb(ground), rgb(ink), 0.07)
	p.Role[Hatch], p.Role[Faint] = Mix(rgb(ground), rgb(ink), 0.5), Mix(rgb(ground), rgb(ink), 0.5)
	return p
}

var strongLight, strongDark = strong(lightPalette, 0xffffff, 0x000000), strong(darkPalette, 0x000000, 0xffffff)

// StrongFor returns the palette of a theme for who asks the system for more
// contrast, or for its own colours.
func StrongFor(dark bool) *Palette {
	if dark {
		return &strongDark
	}
	return &strongLight
}

// Sizes in CSS px. Lettering keeps these whatever the scale of the drawing.
const (
	TextSmall  = 11.0
	TextNormal = 12.0
	TextLarge  = 17.0
	HitMin     = 24.0 // least width and height of a hit region
	MarkGap    = 30.0 // distance between flow marks along a stream
)

// cividisStops samples the cividis colour map (Nuñez, Anderton, Renslow, PLOS
// ONE 13(7), 2018) at equal steps from 0 to 1.
var cividisStops = [...]color.RGBA{
	rgb(0x00224e), rgb(0x123570), rgb(0x3b496c), rgb(0x575d6d), rgb(0x707173),
	rgb(0x8a8678), rgb(0xa59c74), rgb(0xc3b369), rgb(0xe1cc55), rgb(0xfee838),
}

// cividisTop leaves out the glaring end of the map; the scale drawn ends there too.
const cividisTop = 0.88

// Cividis maps 0..1 to the colour map; values outside are clamped.
func Cividis(t float64) color.RGBA {
	x := clamp(t, 0, 1) * cividisTop * float64(len(cividisStops)-1)
	i := min(int(x), len(cividisStops)-2)
	return Mix(cividisStops[i], cividisStops[i+1], x-float64(i))
}

// Mix returns the colour a fraction t of the way from a to b.
func Mix(a, b color.RGBA, t float64) color.RGBA {
	f := func(p, q uint8) uint8 { return uint8(float64(p) + t*(float64(q)-float64(p)) + 0.5) }
	return color.RGBA{f(a.R, b.R), f(a.G, b.G), f(a.B, b.B), 0xff}
}

// luminance is the relative luminance of WCAG 2.1, approximated with a square.
func luminance(c color.RGBA) float64 {
	sq := func(v uint8) float64 { x := float64(v) / 255; return x * x }
	return 0.2126*sq(c.R) + 0.7152*sq(c.G) + 0.0722*sq(c.B)
}

// MarkOn returns the mark colour that stands out on water of colour c.
func (p *Palette) MarkOn(c color.RGBA) color.RGBA {
	if luminance(c) > 0.28 {
		return p.Dark
	}
	return p.Light
}
