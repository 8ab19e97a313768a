// Package still paints what does not move: static art, as the canvas keeps it, and the
// whole unit at rest, as the page shows it until its program is there to draw.
package still

import (
	"slices"

	"brinebench/game/ink"
	"brinebench/game/viewmodel"
)

// Pen takes the picture to a sheet: px per CSS px of the picture, and where its corner
// lies, px.
type Pen struct{ Scale, OX, OY float64 }

// X and Y are where a point of the picture comes to lie; At is both.
func (p Pen) X(x float64) float32 { return float32(x*p.Scale + p.OX) }

func (p Pen) Y(y float64) float32 { return float32(y*p.Scale + p.OY) }

func (p Pen) At(q viewmodel.Pt) ink.Pt { return ink.Pt{X: p.X(q.X), Y: p.Y(q.Y)} }

// Art draws strokes of static art.
func Art(dst *ink.Sheet, ops []viewmodel.Op, pal *viewmodel.Palette, to Pen) {
	var pts []ink.Pt
	for i := range ops {
		op := &ops[i]
		pts = pts[:0]
		for _, p := range op.Pts {
			pts = append(pts, to.At(p))
		}
		w := float32(op.Width * to.Scale)
		switch op.Kind {
		case viewmodel.OpErase:
			dst.Face(asLine(pts))
		case viewmodel.OpFill, viewmodel.OpScale:
			dst.Face(pts)
		case viewmodel.OpLines:
			for k := 1; k < len(pts); k += 2 {
				dst.Line(pts[k-1:k+1], false, w)
			}
		default:
			dst.Line(pts, op.Closed, w)
		}
		if erases(op) && i+1 < len(ops) && erases(&ops[i+1]) {
			continue // both at once, or a seam would stay between them
		}
		switch op.Kind {
		case viewmodel.OpErase, viewmodel.OpEraseStroke:
			dst.Erase()
		case viewmodel.OpScale:
			dst.Paint(viewmodel.Cividis(op.Value))
		default:
			dst.Paint(pal.Role[op.Role])
		}
	}
}

func erases(op *viewmodel.Op) bool {
	return op.Kind == viewmodel.OpErase || op.Kind == viewmodel.OpEraseStroke
}

// asLine turns a face so that it goes round as the outline of a line does: else the two
// would cancel each other where they overlap.
func asLine(pts []ink.Pt) []ink.Pt {
	area := float32(0)
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		area += p.X*q.Y - q.X*p.Y
	}
	if area > 0 {
		slices.Reverse(pts)
	}
	return pts
}
