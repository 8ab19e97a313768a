// Package viewmodel turns the unit into geometry: where every part is drawn on
// a stage of a given size, what moves in it, and where it can be touched. It is
// pure: it knows no screen, and the same input gives the same picture.
package viewmodel

import (
	"math"
	"slices"

	"brinebench/sim"
)

// Src names a body of water whose colour the picture shows: a passage (the
// value of its sim.Path) or one of the bodies after them.
type Src int

// SrcFreeboard is the uppermost layer of the water above the bed; the others follow it.
const SrcFreeboard = Src(sim.NumPaths)

// The other bodies of water that are no passage.
const (
	SrcPlenum Src = SrcFreeboard + sim.BedLayers + iota
	SrcTank
	SrcStreet   // supply before the shut-off
	SrcManifold // drain passages before the drain control
	SrcPort     // between brine seat and refill control
	SrcNozzle   // between injector screen and nozzle
	SrcReturn   // what leaves the injector's throat
	SrcTankHead // over the tank's neck
	SrcRiserHead
	NumSrc
)

// OpKind says how a static stroke of the pen is made.
type OpKind uint8

// The kinds of Op.
const (
	OpFill        OpKind = iota // fill Pts
	OpStroke                    // stroke Pts
	OpErase                     // clear inside Pts
	OpEraseStroke               // clear along Pts
	OpLines                     // separate segments, two points each
	OpScale                     // fill Pts with the cividis colour of Value
)

// Op is one stroke of static art.
type Op struct {
	Kind   OpKind
	Role   Role
	Width  float64 // CSS px, of strokes
	Value  float64 // 0..1, of OpScale
	Closed bool
	Pts    []Pt
}

// Water is a face filled with water of one source.
type Water struct {
	Mesh Mesh
	Src  Src
}

// Term is a share of a passage's flow.
type Term struct {
	Path sim.Path
	Coef float64
}

// Stream is a line along which flow marks, brine stipple and air bubbles move.
type Stream struct {
	Pts    []Pt
	At     []float64 // length along Pts up to each point, CSS px
	Len    float64   // CSS px
	Width  float64   // CSS px, room across for stipple and bubbles
	Terms  []Term    // flow along Pts, m³/s, is the sum of the terms
	House  bool      // less the household's own draw
	AreaM2 float64   // true free area: speed is flow / area
	Beads  bool      // carries resin beads while the bed is lifted to the roof
	Src    Src
	Gap    float64 // distance of marks, CSS px
}

// Seat is the moving part of one seat: disc, stem and spring.
type Seat struct {
	Seat           sim.Seat
	X              float64 // centre line
	PlateY         float64 // top of the port, where the shut disc rests
	DiscW, DiscH   float64
	Lift           float64 // travel at full lift, CSS px
	RollerY, BarY  float64 // centre of the roller when shut; spring abutment
	RollerR, BandW float64
	StemW          float64
}

// Drum is the cam drum in side view.
type Drum struct {
	Box    Rect // X..X+W along its axis; H is its diameter
	Lobe   float64
	Gear   Rect // wheel on the drum's end, seen from the side
	Pinion Rect // the motor's pinion on it
}

// Gauge is a dial.
type Gauge struct {
	Node  sim.Node
	C     Pt
	R     float64
	MaxPa float64
}

// Ball is a quarter-turn valve or a bypass plug seen in section. Its directions
// are in radians: towards the street or the house, towards the control valve,
// and, of bypass plugs, towards the other plug.
type Ball struct {
	C                    Pt
	R                    float64
	Bore                 float64
	Mains, Valve, Across float64
	Src                  Src
}

// Meter is the meter's dial on the outlet pipe; its needle turns with the flow.
type Meter struct {
	C Pt
	R float64 // 0 while it is taken out
}

// Jet is a stream falling freely.
type Jet struct {
	Top, Bottom Pt
	FullW       float64 // width at FullM3S, CSS px
	FullM3S     float64
	Src         Src
}

// Bed is the inside of the resin tank.
type Bed struct {
	Box    Rect    // inside of the shell, CSS px
	PxPerM float64 // vertical scale
	Floor  float64 // underside of the bed
	RiserX float64
	RiserW float64
	Beads  []Pt // X: 0..1 across, Y: 0..1 from floor to top of bed
	BeadR  float64
	Grains []Pt // stipple places: X, Y 0..1 of Box
}

// BrineTank is the inside of the brine tank.
type BrineTank struct {
	Box    Rect
	PxPerM float64
	Floor  float64
	Well   Rect
	FloatX float64
	FloatW float64
	Check  Pt      // seat of the air check
	CheckR float64 // radius of its ball
	CheckL float64 // travel of the ball, CSS px
	Grains []Pt    // stipple places: X, Y 0..1 of Box
}

// Chart is the cam drum's surface unrolled: a row per seat, 360° across.
type Chart struct {
	Box  Rect // of the rows alone
	RowH float64
}

// Cursor is where a drum angle in degrees stands across the chart. A drum that is back
// at service by a whole turn may lack the last bit of it, and stands at 0° all the same.
func (c *Chart) Cursor(deg float64) float64 {
	const nearDeg = 0.5
	return c.Box.X + c.Box.W*max(0, math.Mod(deg+nearDeg, 360)-nearDeg)/360
}

// Placed is a lettering with its place fixed. X, Y is its top left.
type Placed struct {
	Text string
	X, Y float64
	Size float64
	Bold bool
	Role Role
}

// ReadoutKind names a lettering that changes.
type ReadoutKind uint8

// The changing letterings.
const (
	ReadStation ReadoutKind = iota
	ReadRemaining
	ReadClock
	ReadNext
	ReadBypass
	ReadGauge // Node says which
	ReadAngle // of the drum
	ReadNode  // the same as a bare number, on the passage itself
)

// Readout is a place for a lettering that changes.
type Readout struct {
	Kind  ReadoutKind
	Node  sim.Node
	At    Pt
	Align float64 // 0 left, 0.5 centre, 1 right
	Size  float64
	Bold  bool
	Role  Role
	MaxW  float64 // room, CSS px; 0 is no limit. Longer text goes on two lines
	Plate bool    // on a cleared strip
	Short bool    // there is room for the short form only
	Face  bool    // on the controller's face
	Box   Rect    // room kept for it
}

// Hit is a region that selects a part.
type Hit struct {
	Part sim.Part
	Box  Rect
}

// Scene is everything that depends on stage size, setup and theme only.
type Scene struct {
	W, H     float64 // CSS px
	Unit     float64 // CSS px per drawing unit
	Tall     bool
	Veiled   bool    // hardness is not shown
	Layers   Layers  // those that are shown
	TopPa    float64 // hard end of the scale of pressures
	Heavy    float64 // width of outlines, CSS px
	Thin     float64
	Under    []Op // below the water
	Over     []Op // above it
	Waters   []Water
	Streams  []Stream
	Seats    [sim.NumSeats]Seat
	Drum     Drum
	Gauges   []Gauge
	ShutOff  Ball
	Plugs    [2]Ball // supply side, house side
	Meter    Meter
	Taps     []Tap
	Jets     [3]Jet // drain, house tap, raw tap
	Bed      Bed
	Tank     BrineTank
	Chart    Chart // zero Box where there is no room
	Labels   []Placed
	Leads    [][2]Pt  // leader lines, from a lettering to what it names
	Plates   []Placed // letterings in front of moving parts, on a cleared strip
	Readouts []Readout
	Hits     []Hit
	Legend   Legend
	Progress Rect // bar of the time gone in a station, or of the capacity left; zero where there is none
	Lamp     Pt   // of the controller's alarm
	Face     Rect // of the controller, dark when it has no power
	Inset    Rect // where an opened part is shown enlarged
	Card     []Op // the enlarged section, in front of all that moves
	CardText []Placed
	DiscsOut bool   // the seats' discs have been taken out
	FloatOut bool   // so has the safety float
	CheckOut bool   // and so has the air check
	below    bool   // the injector discharges below the bed
	words    []Rect // letterings, which selection brackets keep off
}

// Legend has the places of the two samples that are drawn with marks.
type Legend struct{ Brine, Air Rect }

// Tap is the handle of a tap, turned by its opening.
type Tap struct {
	C    Pt
	Len  float64
	Raw  bool
	Flat float64 // direction when shut, radians
}

// Brackets returns the strokes, w wide, that frame a part's box at its corners.
// They stay on the stage and off letterings; those without room are zero.
func (s *Scene) Brackets(r Rect, w float64) (arms [8]Rect) {
	x0, y0 := math.Max(r.X, w), math.Max(r.Y, w)
	x1, y1 := math.Min(r.X+r.W, s.W-w), math.Min(r.Y+r.H, s.H-w)
	full := math.Min(14, math.Min(x1-x0, y1-y0)*0.3)
	for i := range arms {
		x, y, dx, dy := x0, y0, 1.0, 1.0
		if i&1 > 0 {
			x, dx = x1, -1
		}
		if i&2 > 0 {
			y, dy = y1, -1
		}
		for l := full; l > 2; l *= 0.7 {
			arm := Rect{math.Min(x, x+dx*l) - w/2, y - w/2, l + w, w}
			if i&4 > 0 {
				arm = Rect{x - w/2, math.Min(y, y+dy*l) - w/2, w, l + w}
			}
			if !overlapsAny(arm, s.words) {
				arms[i] = arm
				break
			}
		}
	}
	return arms
}

func overlapsAny(r Rect, rs []Rect) bool {
	return slices.ContainsFunc(rs, r.Overlaps)
}

// At returns the part under p: the smallest region that holds it, or "".
func (s *Scene) At(p Pt) sim.Part {
	best, area := sim.Part(""), 0.0
	for _, h := range s.Hits {
		if a := h.Box.W * h.Box.H; h.Box.Contains(p) && (best == "" || a < area) {
			best, area = h.Part, a
		}
	}
	return best
}

// PartBox returns the largest region of a part, and whether the picture shows it; of the
// seats, which are one part, that of all.
func (s *Scene) PartBox(p sim.Part) (box Rect, shown bool) {
	for _, h := range s.Hits {
		switch {
		case h.Part != p:
		case p == sim.PartSeats && shown:
			box = box.with(h.Box)
		case h.Box.W*h.Box.H > box.W*box.H:
			box, shown = h.Box, true
		}
	}
	return box, shown
}
