package game

// Layers are what the drawing's key switches. They are a way of looking: the
// simulation knows nothing of them. The zero value shows water and names.
type Layers struct {
	Plain    bool // water in one colour, without brine and air
	Pressure bool // passages by their pressure, with its numbers, instead of by their water
	Exchange bool // the state of the bed's cells as bars
	Closed   bool // no enlarged section of a part
	Bare     bool // no names
}

// LayerIDs name the layers, in the order of the key.
var LayerIDs = []string{"water", "pressure", "exchange", "section", "names"}

// Has tells whether a layer is shown.
func (l Layers) Has(id string) bool {
	switch id {
	case "water":
		return !l.Plain && !l.Pressure
	case "pressure":
		return l.Pressure
	case "exchange":
		return l.Exchange
	case "section":
		return !l.Closed
	}
	return !l.Bare
}

// Toggled shows a layer, or hides it when it was shown. Water and pressure colour
// the same passages: each takes the other's place.
func (l Layers) Toggled(id string) Layers {
	switch id {
	case "water":
		l.Plain, l.Pressure = l.Has("water"), false
	case "pressure":
		l.Pressure = !l.Pressure
	case "exchange":
		l.Exchange = !l.Exchange
	case "section":
		l.Closed = !l.Closed
	case "names":
		l.Bare = !l.Bare
	}
	return l
}
