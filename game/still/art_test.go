package still

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/ink"
	"brinebench/game/viewmodel"
)

// Passages that meet in the middle of a px are one clearing, whichever way their faces go
// round and in whichever order they stand.
func TestPassagesThatMeetAreClearedWithoutASeam(t *testing.T) {
	box := func(x0, x1 float64) []viewmodel.Pt {
		return []viewmodel.Pt{{X: x0, Y: 5}, {X: x1, Y: 5}, {X: x1, Y: 15}, {X: x0, Y: 15}}
	}
	turned := func(p []viewmodel.Pt) []viewmodel.Pt { return []viewmodel.Pt{p[3], p[2], p[1], p[0]} }
	pool := func(pts []viewmodel.Pt) viewmodel.Op { return viewmodel.Op{Kind: viewmodel.OpErase, Pts: pts} }
	channel := func(x0, x1 float64) viewmodel.Op {
		return viewmodel.Op{Kind: viewmodel.OpEraseStroke, Width: 10, Pts: []viewmodel.Pt{{X: x0, Y: 10}, {X: x1, Y: 10}}}
	}
	for name, met := range map[string][]viewmodel.Op{
		"pools":                    {pool(box(5, 20.5)), pool(box(20.5, 35))},
		"pools the other way":      {pool(turned(box(5, 20.5))), pool(box(20.5, 35))},
		"channels":                 {channel(5, 20.5), channel(35, 20.5)},
		"pool and channel":         {pool(box(5, 20.5)), channel(20.5, 35)},
		"channel and pool turned":  {channel(5, 20.5), pool(turned(box(20.5, 35)))},
		"pool that overlaps":       {pool(box(5, 25)), pool(turned(box(15, 35)))},
		"channel that overlaps":    {pool(box(5, 25)), channel(15, 35)},
		"channel that comes first": {channel(5, 25), pool(box(15, 35))},
	} {
		t.Run(name, func(t *testing.T) {
			sheet := ink.New(40, 20)
			wall := viewmodel.Op{Role: viewmodel.Ink, Pts: []viewmodel.Pt{{}, {X: 40}, {X: 40, Y: 20}, {Y: 20}}}
			Art(sheet, append([]viewmodel.Op{wall}, met...), viewmodel.PaletteFor(false), Pen{Scale: 1})
			for x := range 40 {
				ink := sheet.RGBAAt(x, 10).A
				if x < 5 || x >= 35 {
					require.EqualValues(t, 255, ink, "wall at %d", x)
				} else {
					require.LessOrEqual(t, ink, uint8(1), "water at %d", x)
				}
			}
		})
	}
}
