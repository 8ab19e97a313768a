package viewmodel

import "math"

// Lens is how much of the picture is on the stage: K times its size, with the
// picture's point (X, Y), CSS px, in the stage's top left corner. The zero value
// is no lens: use Whole.
type Lens struct{ K, X, Y float64 }

// Whole shows the whole picture.
var Whole = Lens{K: 1}

// MaxLens is the strongest enlargement.
const MaxLens = 5.0

// Picture returns the picture's point at p of the stage, both CSS px.
func (l Lens) Picture(p Pt) Pt { return Pt{l.X + p.X/l.K, l.Y + p.Y/l.K} }

// Zoomed enlarges by a factor about the stage's point at; the stage is w × h CSS px.
func (l Lens) Zoomed(factor float64, at Pt, w, h float64) Lens {
	p := l.Picture(at)
	k := clamp(l.K*factor, 1, MaxLens)
	if k < 1.04 { // nearly whole
		return Whole
	}
	return Lens{k, p.X - at.X/k, p.Y - at.Y/k}.within(w, h)
}

// Panned moves the picture by dx, dy CSS px of the stage.
func (l Lens) Panned(dx, dy, w, h float64) Lens {
	return Lens{l.K, l.X - dx/l.K, l.Y - dy/l.K}.within(w, h)
}

// Showing moves the picture as little as is needed to have a region of it on the
// stage, with its middle where it is larger than that.
func (l Lens) Showing(r Rect, w, h float64) Lens {
	shift := func(at, room, from, size float64) float64 {
		if size > room {
			return from + (size-room)/2
		}
		return clamp(at, from+size-room, from)
	}
	r = r.Inset(-12 / l.K)
	l.X = shift(l.X, w/l.K, r.X, r.W)
	l.Y = shift(l.Y, h/l.K, r.Y, r.H)
	return l.within(w, h)
}

// within keeps the stage filled.
func (l Lens) within(w, h float64) Lens {
	l.X = clamp(l.X, 0, math.Max(0, w-w/l.K))
	l.Y = clamp(l.Y, 0, math.Max(0, h-h/l.K))
	return l
}
