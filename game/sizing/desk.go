// Package sizing is the desk at which a softener is sized: job sheets, what is typed into
// its forms and what is wrong with it, marks and worked solutions as rows to show, and a
// controller's panel to be set. It knows nothing of the page.
package sizing

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"brinebench/sim"
)

// Source is where a job sheet comes from.
type Source string

// The sources.
const (
	Drawn   Source = "drawn"   // from a seed
	Library Source = "library" // one of those that come with the program
	Own     Source = "own"     // written by hand
	Given   Source = "given"   // by a class
)

// Sheet is a job sheet of the library.
type Sheet struct {
	ID   string
	JSON []byte
}

// Kept is what the browser keeps of the desk, as JSON. All of it is as it was left; the
// bounds are those of Restore.
type Kept struct {
	Source  Source
	Seed    uint64
	Sheet   string // id
	Own     Form
	OwnJob  json.RawMessage `json:",omitempty"` // the sheet that was last made of Own
	Answers map[string]Form // by Key
	Marks   map[string]json.RawMessage
	Setups  map[string]Setup
	Recent  []string // keys, the latest last
	Section string
}

// Desk is the desk of one person.
type Desk struct {
	Kept
	Job      sim.SizingJob
	library  []Sheet
	given    []byte // the class's job
	solution *sim.SizingSolution
}

const (
	firstSeed = 1
	mostSeed  = 999_999
	mostKept  = 40      // answers
	maxText   = 1 << 20 // bytes of a kept desk
)

// New sets up a desk with the first drawn job.
func New(library []Sheet) *Desk {
	d := &Desk{library: library}
	d.Kept = Kept{Source: Drawn, Seed: firstSeed, Section: "job"}
	d.take()
	return d
}

// NewGiven sets up a desk with a job of a class and no other. The error is that of a job
// that is none.
func NewGiven(job []byte) (*Desk, error) {
	d := &Desk{given: job}
	d.Kept = Kept{Source: Given, Section: "answer"}
	if !d.take() {
		_, err := sim.OpenSizing("job", job)
		return nil, err
	}
	return d, nil
}

// Restore brings a desk back as it was kept. A job that is not to be had any more, as a
// sheet that is gone, gives way to a drawn one, and all that was typed stays. The error is
// that of a text that is no desk, and leaves the desk as it is.
func (d *Desk) Restore(text []byte) error {
	if len(text) > maxText {
		return fmt.Errorf("kept desk: %d bytes, more than %d", len(text), maxText)
	}
	var k Kept
	if err := json.Unmarshal(text, &k); err != nil {
		return fmt.Errorf("kept desk: %w", err)
	}
	if k.Seed > mostSeed {
		k.Seed = firstSeed
	}
	d.Kept = k
	if !d.take() {
		d.Source = Drawn
		d.take()
	}
	return nil
}

// Text is the desk as it is kept, so that Restore takes it: where it would be too large,
// what was done longest ago with other jobs is forgotten.
func (d *Desk) Text() []byte {
	for {
		text, err := json.Marshal(d.Kept)
		if err != nil {
			panic("sizing: " + err.Error())
		}
		i := slices.IndexFunc(d.Recent, func(key string) bool { return key != d.Key() })
		if len(text) <= maxText || i < 0 {
			return text
		}
		d.forget(i)
	}
}

// take opens the job that is chosen, and reports whether there is one.
func (d *Desk) take() bool {
	job, ok := d.chosen()
	if !ok {
		return false
	}
	d.Job, d.solution = job, nil
	return true
}

func (d *Desk) chosen() (job sim.SizingJob, ok bool) {
	var text []byte
	switch d.Source {
	case Drawn:
		return sim.DrawSizing(d.Seed), true
	case Library:
		i := slices.IndexFunc(d.library, func(s Sheet) bool { return s.ID == d.Sheet })
		if i < 0 {
			return job, false
		}
		text = d.library[i].JSON
	case Own:
		text = d.OwnJob
	case Given:
		text = d.given
	}
	job, err := sim.OpenSizing("job", text)
	return job, err == nil
}

// Draw takes up the job of a seed, as it was typed.
func (d *Desk) Draw(typed string) *Trouble {
	e := sim.SizingEntry{ID: "seed", Whole: true, Units: [2][]sim.SizingUnit{{{Most: mostSeed, InSI: 1}}, {{Most: mostSeed, InSI: 1}}}}
	v, _, bad := read(&e, Typed{Text: typed})
	if bad != nil {
		return bad
	}
	d.Source, d.Seed = Drawn, uint64(v.number)
	d.take()
	return nil
}

// Another takes up the drawn job after the present one.
func (d *Desk) Another() {
	d.Seed++
	if d.Seed > mostSeed {
		d.Seed = firstSeed
	}
	d.Source = Drawn
	d.take()
}

// Open takes up a sheet of the library, and reports whether there is one of that id.
func (d *Desk) Open(id string) bool {
	was := d.Kept
	d.Source, d.Sheet = Library, id
	if d.take() {
		return true
	}
	d.Kept = was
	return false
}

// TakeOwn takes up the job that was written by hand; where that is wrong, the present job
// stays.
func (d *Desk) TakeOwn() []Trouble {
	text, troubles := d.Own.Job()
	if troubles != nil {
		return troubles
	}
	changed := string(text) != string(d.OwnJob)
	d.Source, d.OwnJob = Own, text
	if changed {
		d.unmark()
	}
	d.take()
	return nil
}

// unmark takes away all marks of the present job; what was typed and set stays.
func (d *Desk) unmark() {
	d.ForgetMarks()
	for _, demand := range []bool{false, true} {
		if u, there := d.Setups[d.setupKey(demand)]; there {
			u.Marks = nil
			d.Setups[d.setupKey(demand)] = u
		}
	}
}

// Titles are the sheets of the library with their titles, English.
func (d *Desk) Titles() (list []struct{ ID, Title string }) {
	for _, s := range d.library {
		job, err := sim.OpenSizing(s.ID, s.JSON)
		if err != nil {
			panic("sizing: " + err.Error())
		}
		list = append(list, struct{ ID, Title string }{s.ID, job.Title})
	}
	return list
}

// Key tells jobs apart; titles do not, as drawn ones share them.
func (k *Kept) Key() string {
	switch k.Source {
	case Drawn:
		return string(Drawn) + "-" + strconv.FormatUint(k.Seed, 10)
	case Library:
		return string(Library) + "-" + k.Sheet
	case Given:
		return string(Given)
	}
	return string(Own)
}

// Answer is the answer to the present job, as far as it has been typed.
func (d *Desk) Answer() Form { return d.Answers[d.Key()] }

// SetAnswer keeps it.
func (d *Desk) SetAnswer(f Form) {
	put(&d.Answers, d.Key(), f)
	d.used()
}

// used moves the present job to the end of the recent ones, and forgets what was done
// longest ago.
func (d *Desk) used() {
	key := d.Key()
	d.Recent = append(slices.DeleteFunc(d.Recent, func(k string) bool { return k == key }), key)
	for len(d.Recent) > mostKept {
		d.forget(0)
	}
}

// forget drops what was done with one of the recent jobs.
func (d *Desk) forget(i int) {
	old := d.Recent[i]
	d.Recent = slices.Delete(d.Recent, i, i+1)
	delete(d.Answers, old)
	delete(d.Marks, old)
	delete(d.Setups, old+clockKey)
	delete(d.Setups, old+demandKey)
}

// SetMarks keeps the marks of the present job, as JSON; MarksNow returns them. The error
// is that of a text that has none.
func (d *Desk) SetMarks(text []byte) error {
	if err := json.Unmarshal(text, &sim.SizingMarks{}); err != nil {
		return fmt.Errorf("marks: %w", err)
	}
	put(&d.Marks, d.Key(), json.RawMessage(text))
	d.used()
	return nil
}

// MarksNow are the marks of the present job, if it has been marked.
func (d *Desk) MarksNow() (m sim.SizingMarks, ok bool) {
	text := d.Marks[d.Key()]
	return m, text != nil && json.Unmarshal(text, &m) == nil
}

// ForgetMarks takes the marks of the present job away, for another try.
func (d *Desk) ForgetMarks() { delete(d.Marks, d.Key()) }

// Solution is the worked solution of the present job.
func (d *Desk) Solution() *sim.SizingSolution {
	if d.solution == nil {
		s, err := sim.SolveSizing("job", d.Job.JSON)
		if err != nil {
			panic("sizing: " + err.Error()) // it was opened before
		}
		d.solution = &s
	}
	return d.solution
}

// put sets a key of a map that may not be there yet.
func put[V any](m *map[string]V, key string, v V) {
	if *m == nil {
		*m = map[string]V{}
	}
	(*m)[key] = v
}
