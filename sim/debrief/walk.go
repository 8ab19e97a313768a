package debrief

import (
	"brinebench/sim/adviser"
	"brinebench/sim/call"
)

// Walk follows the belief through a call, deed by deed, as far as it is read. The call
// may still be going on.
type Walk struct {
	lib     *adviser.Library
	adviser *adviser.Adviser
	steps   []adviser.Step // by deed
}

// NewWalk begins at the start of a call. The library of its unit must be as it was made,
// or a fork of it, and nobody else's.
func NewWalk(lib *adviser.Library) *Walk { return &Walk{lib: lib, adviser: lib.Follow()} }

// Follow goes on to the last deed so far that gave a reading. deeds and journal are those
// of the call, from its start; progress hears how far it has come in them, 0..1.
func (w *Walk) Follow(deeds []adviser.Deed, journal []call.Entry, progress func(done float64)) {
	entries := entriesOf(journal)
	for last := lastRead(entries); len(w.steps) <= last; {
		i := len(w.steps)
		w.steps = append(w.steps, w.adviser.Follow(deeds[i], entries[i]))
		progress(float64(i+1) / float64(len(deeds)))
	}
}

// Present is the belief that a cause is at work, alone or with others; see
// adviser.Adviser.Present.
func (w *Walk) Present(id string) float64 { return w.adviser.Present(id) }

// entriesOf finds a journal's entries of the deeds, by deed: all but the mishaps.
func entriesOf(journal []call.Entry) (entries []*call.Entry) {
	for i := range journal {
		if e := &journal[i]; e.Action.Kind != call.Mishap {
			entries = append(entries, e)
		}
	}
	return entries
}

// lastRead is the index of the last deed that gave a reading; −1 where none did.
func lastRead(entries []*call.Entry) int {
	for i := len(entries) - 1; i >= 0; i-- {
		if entries[i].Reading != nil {
			return i
		}
	}
	return -1
}
