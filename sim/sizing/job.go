// Package sizing works out which softener fits a house: a pure calculator that
// shows every step with its rule, and finds what does not fit in an answer.
//
// It is for training. Local code, the authority having jurisdiction and licensed
// practice govern a real job.
package sizing

import (
	"fmt"
	"math"

	"brinebench/sim/strict"
)

// MaxBytes is the greatest size of a job sheet or an answer.
const MaxBytes = 64 << 10

// Job is a job sheet: a house that wants a softener. Amounts are as they were written.
type Job struct {
	Title, Customer string
	Seed            int // of the household's days
	People          int
	Fixtures        [NumFixtures]int // how many of each kind

	Hardness                               Amount
	Iron, Manganese, TDS, Sodium, Chlorine Amount
	PH                                     float64
	Temperature                            Amount

	Well                   bool   // otherwise the mains
	Static, Residual       Amount // pressure at rest (on a well: at which its pump stops), and at a flow
	ResidualAt             Amount // that flow
	DrainRise, DrainLength Amount
	DrainMost              Amount // most that the drain takes
	FloorWidth, Height     Amount // of the place for the unit
	SaltSaving, LowSodium  bool   // wishes
	Demand                 bool   // the controller counts water; otherwise it is a clock
}

// Fixture is a kind of fixture, in the order of household.Standard.
type Fixture int

// The kinds of fixture.
const (
	Toilet Fixture = iota
	Shower
	Bath
	Basin
	KitchenTap
	UtilitySink
	Washer
	Dishwasher
	NumFixtures
)

var fixtureIDs = [NumFixtures]string{"toilet", "shower", "bath", "basin", "kitchen", "utility", "washer", "dishwasher"}

// ID is the fixture's name in a job sheet.
func (f Fixture) ID() string { return fixtureIDs[f] }

// Wishes that a job sheet may name.
const (
	wishSalt   = "salt-saving"
	wishSodium = "low-sodium"
)

// Bounds of a job sheet.
const (
	mostPeople   = 16
	mostFixtures = 6
	leastPHOfJob = 3
	mostPHOfJob  = 12
	usualPH      = 7.5
	jobFormat    = "brinebench-job-1"
)

// DecodeJob reads a job sheet. The error joins every fault found, each naming the
// file and the field.
func DecodeJob(name string, data []byte) (*Job, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%s: %d bytes, more than the %d that a job sheet may have", name, len(data), MaxBytes)
	}
	j, w := &Job{Seed: 1}, &strict.Walk{}
	w.Members("", data, j.fields(w))
	if w.Clean() {
		j.cross(w)
	}
	if err := w.Err(name); err != nil {
		return nil, err
	}
	return j, nil
}

func (j *Job) fields(w *strict.Walk) []strict.Field {
	var version, supply, controller string
	kind := w.Text("kind", &supply, "mains", "well")
	read := kind.Read
	kind.Read = func(at string, raw []byte) { read(at, raw); j.Well = supply == "well" }
	control := w.Text("controller", &controller, "clock", "demand")
	readControl := control.Read
	control.Read = func(at string, raw []byte) { readControl(at, raw); j.Demand = controller == "demand" }
	return []strict.Field{
		w.Text("format", &version, jobFormat),
		w.Text("title", &j.Title),
		w.Text("customer", &j.Customer),
		optional(w.Integer("seed", &j.Seed, 0, math.MaxInt32)),
		w.Integer("people", &j.People, 1, mostPeople),
		w.Object("fixtures", j.fixtureFields(w)...),
		w.Object("water", j.waterFields(w)...),
		w.Object("supply", append([]strict.Field{kind}, j.amounts(w, "supply")...)...),
		w.Object("drain", j.amounts(w, "drain")...),
		w.Object("space", j.amounts(w, "space")...),
		w.Each("wishes", func(at string, raw []byte) { j.readWish(w, at, raw) }),
		control,
	}
}

func (j *Job) fixtureFields(w *strict.Walk) (list []strict.Field) {
	for i := range j.Fixtures {
		list = append(list, optional(w.Integer(fixtureIDs[i], &j.Fixtures[i], 0, mostFixtures)))
	}
	return list
}

func (j *Job) waterFields(w *strict.Walk) []strict.Field {
	zero := AmountOf(Concentration, 0, "mg/L")
	j.Iron, j.Manganese, j.TDS, j.Sodium, j.Chlorine, j.PH = zero, zero, zero, zero, zero, usualPH
	return append(j.amounts(w, "water"), optional(w.Number("pH", &j.PH, leastPHOfJob, mostPHOfJob)))
}

// optional makes a field one that a file may leave out.
func optional(x strict.Field) strict.Field {
	x.Optional = true
	return x
}

func (j *Job) readWish(w *strict.Walk, at string, raw []byte) {
	var wish string
	w.Text("", &wish, wishSalt, wishSodium).Read(at, raw)
	j.SaltSaving = j.SaltSaving || wish == wishSalt
	j.LowSodium = j.LowSodium || wish == wishSodium
}

// cross checks what concerns more than one field.
func (j *Job) cross(w *strict.Walk) {
	if j.Residual.SI > j.Static.SI {
		w.Fault("supply.residual", "%s is above the static pressure of %s", j.Residual, j.Static)
	}
	total := 0
	for _, n := range j.Fixtures {
		total += n
	}
	if total == 0 {
		w.Fault("fixtures", "the house has none")
	}
}
