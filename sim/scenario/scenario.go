// Package scenario reads the file of one service call, in trade units, and makes
// the engine's configuration of it.
package scenario

import (
	"fmt"
	"math"

	"brinebench/sim/fault"
	"brinebench/sim/household"
	"brinebench/sim/instrument"
	"brinebench/sim/strict"
)

// MaxBytes is the greatest size of a scenario file.
const MaxBytes = 64 << 10

// File is a scenario as its file gives it; numbers are in the units of their names.
type File struct {
	ID, Title                  string
	Customer, Complaint, House string
	Says                       []string // what the complaint tells, by ID of instrument.Complaint
	Notes                      []string
	Ladder                     Ladder
	Seed                       int
	OtherSeeds                 []int // of households in which the same trouble would come about too
	HardnessGPG, CalciumShare  float64
	SodiumMgL, PotassiumMgL    float64
	TempC                      float64
	StaticPSI, ResidualPSI     float64
	ResidualAtGPM              float64
	People                     int
	Visits                     []household.Visit // days counted from the start of the history
	LeakGPM                    float64
	Unit                       Unit
	Controller                 Controller
	Site                       Site
	HistoryDays                int    // days the unit has run with its faults before the call
	DayOfCycle                 int    // days since the last regeneration at the start of the history
	CallAt                     string // hh:mm
	PowerCuts                  []PowerCut
	Faults                     []Fault

	callS float64
}

// Ladder is a call's place among all calls; zero where its file names none.
type Ladder struct {
	Rung  int    // 1 plain .. TopRung two things wrong at once
	Group string // id of the calls that sound alike when the customer tells of them
}

// TopRung is the highest of the ladder, of the hardest calls.
const TopRung = 12

// Fault is one thing wrong with the unit.
type Fault struct {
	ID       string
	Severity float64     // 0 nothing .. 1 worst
	Onset    fault.Onset // how it came about over the history; steady where the file is silent
}

// PowerCut is a time without power in the house.
type PowerCut struct {
	Day    int     // of the history, from 0
	StartS float64 // from that day's beginning (the hour of the call), s
	Hours  float64
}

// Decode reads a scenario. The error joins every fault found, each naming the
// file and the field.
func Decode(name string, data []byte) (*File, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%s: %d bytes, more than the %d that a scenario may have", name, len(data), MaxBytes)
	}
	f, w := &File{}, &strict.Walk{}
	f.Unit.fit(setOf(data))
	w.Members("", data, f.fields(w))
	if w.Clean() {
		f.cross(w)
	}
	if err := w.Err(name); err != nil {
		return nil, err
	}
	return f, nil
}

// format is the version of the file format.
const format = "brinebench-scenario-1"

func (f *File) fields(w *strict.Walk) []strict.Field {
	var version string
	return []strict.Field{
		w.Text("format", &version, format),
		w.Text("id", &f.ID),
		w.Text("title", &f.Title),
		w.Text("customer", &f.Customer),
		w.Text("complaint", &f.Complaint),
		optional(w.Each("says", func(at string, raw []byte) { f.readSays(w, at, raw) })),
		w.Text("house", &f.House),
		w.Each("notes", func(at string, raw []byte) {
			var note string
			if w.Value(at, raw, &note) {
				f.Notes = append(f.Notes, note)
			}
		}),
		optional(w.Object("ladder",
			w.Integer("rung", &f.Ladder.Rung, 1, TopRung),
			w.Text("group", &f.Ladder.Group))),
		w.Integer("seed", &f.Seed, 0, math.MaxInt32),
		optional(w.Each("other_seeds", func(at string, raw []byte) {
			seed := -1
			w.Integer("", &seed, 0, math.MaxInt32).Read(at, raw)
			f.OtherSeeds = append(f.OtherSeeds, seed)
		})),
		w.Object("water",
			w.Number("hardness_gpg", &f.HardnessGPG, 1, 150),
			w.Number("calcium_share", &f.CalciumShare, 0, 1),
			w.Number("sodium_mg_L", &f.SodiumMgL, 0, 1000),
			w.Number("potassium_mg_L", &f.PotassiumMgL, 0, 1000),
			w.Number("temperature_C", &f.TempC, 1, 40)),
		w.Object("supply",
			w.Number("static_psi", &f.StaticPSI, 0, 150),
			w.Number("residual_psi", &f.ResidualPSI, 0, 150),
			w.Number("residual_at_gpm", &f.ResidualAtGPM, 1, 100)),
		w.Object("household",
			w.Integer("people", &f.People, 0, 20),
			optional(w.Number("leak_gpm", &f.LeakGPM, 0, 5)),
			optional(w.Each("visits", func(at string, raw []byte) { f.readVisit(w, at, raw) }))),
		w.Object("unit", f.Unit.fields(w)...),
		w.Object("controller", f.Controller.fields(w)...),
		optional(w.Object("site", f.Site.fields(w)...)),
		w.Object("history",
			w.Integer("days", &f.HistoryDays, 0, 30),
			w.Integer("days_since_regeneration", &f.DayOfCycle, 0, 30),
			clock(w, "call_at", &f.CallAt, &f.callS),
			optional(w.Each("power_cuts", func(at string, raw []byte) { f.readPowerCut(w, at, raw) }))),
		w.Each("faults", func(at string, raw []byte) { f.readFault(w, at, raw) }),
	}
}

// optional makes a field one that a file may leave out.
func optional(x strict.Field) strict.Field {
	x.Optional = true
	return x
}

func (f *File) readSays(w *strict.Walk, at string, raw []byte) {
	var id string
	if !w.Value(at, raw, &id) {
		return
	}
	if _, ok := instrument.FindComplaint(id); !ok {
		w.Fault(at, "no complaint is named %q", id)
	}
	f.Says = append(f.Says, id)
}

func (f *File) readVisit(w *strict.Walk, at string, raw []byte) {
	var v household.Visit
	w.Members(at, raw, []strict.Field{
		w.Integer("from_day", &v.FromDay, 0, 400),
		optional(w.Integer("to_day", &v.ToDay, 0, 400)),
		w.Integer("people", &v.People, -20, 20),
	})
	f.Visits = append(f.Visits, v)
}

func (f *File) readPowerCut(w *strict.Walk, at string, raw []byte) {
	var c PowerCut
	var hours float64
	w.Members(at, raw, []strict.Field{
		w.Integer("day", &c.Day, 0, 30),
		w.Number("after_hours", &hours, 0, 24),
		w.Number("hours", &c.Hours, 0.01, 240),
	})
	c.StartS = float64(hours * 3600)
	f.PowerCuts = append(f.PowerCuts, c)
}

// clock reads a time of day hh:mm into text and seconds since midnight.
func clock(w *strict.Walk, key string, text *string, seconds *float64) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		if !w.Value(at, raw, text) {
			return
		}
		t := *text
		digit := func(i int) int { return int(t[i]) - '0' }
		if len(t) != 5 || t[2] != ':' {
			w.Fault(at, "%q is no time of day hh:mm", t)
			return
		}
		for _, i := range []int{0, 1, 3, 4} {
			if digit(i) < 0 || digit(i) > 9 {
				w.Fault(at, "%q is no time of day hh:mm", t)
				return
			}
		}
		hours, minutes := 10*digit(0)+digit(1), 10*digit(3)+digit(4)
		if hours > 23 || minutes > 59 {
			w.Fault(at, "%q is no time of day", t)
			return
		}
		*seconds = float64(60 * (60*hours + minutes))
	}}
}

func (f *File) readFault(w *strict.Walk, at string, raw []byte) {
	var x Fault
	var onset string
	w.Members(at, raw, []strict.Field{
		w.Text("id", &x.ID),
		w.Number("severity", &x.Severity, 0, 1),
		optional(w.Text("onset", &onset, string(fault.Steady), string(fault.Growing), string(fault.Intermittent))),
	})
	if x.Onset = fault.Onset(onset); onset == "" {
		x.Onset = fault.Steady
	}
	if _, ok := fault.Find(x.ID); !ok && x.ID != "" {
		w.Fault(at+".id", "no fault is named %q", x.ID)
	}
	f.Faults = append(f.Faults, x)
}
