//go:build !js && !arm64

package debrief_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/adviser"
	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/expert"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
)

// place is a call ready to be played again and again.
type place struct {
	file  *scenario.File
	model *plant.Model
	found *plant.State
	lib   *adviser.Library
}

// opened are the library's calls that a test has opened: their units have lived.
var opened = map[string]*place{}

func open(tb testing.TB, name string) *place {
	tb.Helper()
	if opened[name] == nil {
		data, err := scenarios.FS.ReadFile(name + ".json")
		require.NoError(tb, err)
		opened[name] = openFile(tb, name, data)
	}
	return opened[name]
}

func openFile(tb testing.TB, name string, data []byte) *place {
	tb.Helper()
	f, err := scenario.Decode(name, data)
	require.NoError(tb, err)
	m, err := plant.New(f.Config())
	require.NoError(tb, err)
	past, endS := f.Begin(m.Coarse()), float64(f.HistoryDays)*86400
	for past.State.TimeS < endS {
		past.Step(endS)
	}
	return &place{file: f, model: m, found: past.End(), lib: adviser.NewLibrary(f, m, nil)}
}

// truth is what is wrong, as a verdict names it.
func (p *place) truth() (ids []string) {
	for _, f := range fault.Wrong(p.file.Condition()) {
		ids = append(ids, f.ID)
	}
	if len(ids) == 0 {
		ids = append(ids, call.NoFault)
	}
	return ids
}

// hand is somebody at work on a call, with an expert's hands but a head of his own.
type hand struct {
	*expert.Expert
	*place
	call *call.Call
}

func (p *place) hand(seed uint64) hand {
	k, own := call.New(p.model, p.found.Clone(), seed), *p
	own.lib = p.lib.Fork()
	return hand{Expert: expert.New(k, own.lib, k.RunTo), place: &own, call: k}
}

func (h hand) test(id string) { h.Do(call.Act{Kind: call.Test, ID: id}, "") }

func (h hand) name(ids []string, sure float64) {
	id := ids[0]
	for _, more := range ids[1:min(len(ids), call.MaxCauses)] {
		id += "+" + more
	}
	h.Do(call.Act{Kind: call.Diagnose, ID: id, Value: sure}, "")
}

func (h hand) finish() { h.Do(call.Act{Kind: call.Finish}, "") }

// mend does what cures causes, seen or unseen.
func (h hand) mend(ids []string) (worked bool) {
	for _, id := range ids {
		if f, ok := fault.Find(id); ok && len(f.Cures) > 0 {
			worked = h.Work(call.Kind(f.Cures[0]), f.Where, "") || worked
		}
	}
	return worked
}

// judged is how a finished call scores.
func (h hand) judged() debrief.Result {
	run := h.Run()
	c := debrief.Case{File: h.file, Model: h.model, Found: h.found, Call: h.call, Deeds: run.Deeds}
	return c.Score(h.lib, run.Steps)
}

// A wrong name for any call: the first of these that is not true.
func (h hand) wrong() []string {
	for _, id := range []string{"salt-bridge", "nozzle-plugged"} {
		if !slices.Contains(h.truth(), id) {
			return []string{id}
		}
	}
	panic("both are true")
}

// trainees are ten ways to take a call, and what they may score at most and least.
var trainees = []struct {
	name        string
	play        func(h hand)
	least, most float64
}{
	{"expert", func(h hand) { h.Play() }, 85, 100},
	{"careful novice", func(h hand) {
		for _, id := range []string{"hardness-raw", "hardness-house", "pressure-in", "salt-probe", "brine-strength"} {
			h.test(id)
		}
		h.Play()
	}, 70, 100},
	{"parts swapper", func(h hand) {
		parts := []plant.Part{plant.PartDrainCtl, plant.PartRefillCtl, plant.PartScreen, plant.PartInjector, plant.PartBrineLine, plant.PartAirCheck}
		for i, id := range parts {
			h.Work(call.Replace, id, "")
			if i >= 3 && h.Prove(true) || i == len(parts)-1 {
				h.name(named(id), 0.8)
				break
			}
		}
		h.Leave()
	}, 0, 55},
	{"lucky guesser", func(h hand) {
		h.name(h.truth(), 1)
		h.Prove(h.mend(h.truth()))
		h.Leave()
	}, 0, 60},
	{"reckless", func(h hand) {
		for range 3 {
			h.Do(call.Act{Kind: call.Open, Part: plant.PartInjector}, "")
		}
		h.Play()
	}, 0, 55},
	{"idle", func(h hand) { h.finish() }, 0, 10},
	{"hint taker", func(h hand) {
		for _, rung := range call.Rungs {
			h.Do(call.Act{Kind: call.Hint, ID: rung}, "")
		}
		h.test("hardness-house")
		h.name(h.truth(), 0.9)
		h.Prove(h.mend(h.truth()))
		h.Leave()
	}, 0, 60},
	{"wrong and confident", func(h hand) {
		h.test("hardness-house")
		h.name(h.wrong(), 1)
		h.finish()
	}, 0, 50},
	{"wrong and unsure", func(h hand) {
		h.test("hardness-house")
		h.name(h.wrong(), 0.3)
		h.finish()
	}, 0, 60},
	{"random", func(h hand) {
		ids := h.wander(1)
		h.name(ids, 0.8)
		h.Prove(h.mend(ids))
		h.Leave()
	}, 0, 95},
}

// named is the commonest fault of a part.
func named(id plant.Part) []string {
	top := ""
	most := 0.0
	for _, f := range fault.Catalogue() {
		if f.Where == id && f.Prior > most {
			top, most = f.ID, f.Prior
		}
	}
	return []string{top}
}

// wander makes tests in random order, in one position of the drum after another,
// until one cause leads as it does for an expert, and returns it. It asks nothing
// twice that stays the same, and leaves what takes long until all positions have been
// gone through three times.
func (h hand) wander(seed uint64) []string {
	const sure, stay = 0.95, 8
	r := repro.NewStream(seed, "trainee/random")
	all := instrument.All()
	known := make([]bool, len(all))
	rounds := 3 * len(h.model.Config().Program.Stops)
	for round := 0; round <= rounds; round++ {
		for _, i := range shuffled(&r, len(all)) {
			switch in := &all[i]; {
			case slices.Max(h.Belief()) >= sure:
				return h.leading()
			case known[i] || costly(in) != (round == rounds):
				continue
			case in.NeedsOpening():
				h.Look(in.Where)
			default:
				h.Ready()
				h.test(in.ID)
			}
			known[i] = all[i].Fixed
			if round < rounds && r.Float64()*stay < 1 {
				break
			}
		}
		h.Drive()
	}
	return h.leading()
}

// shuffled are the numbers below n in random order.
func shuffled(r *repro.Stream, n int) []int {
	list := make([]int, n)
	for i := range list {
		k := int(r.Float64() * float64(i+1))
		list[i], list[k] = list[k], i
	}
	return list
}

// costly reports whether a test takes more than twenty minutes, as the opening of the
// bed does.
func costly(in *instrument.Instrument) bool {
	const longMinutes = 20
	p, _ := call.Part(in.Where)
	return in.NeedsOpening() && p.Minutes.Open+p.Minutes.Refit > longMinutes
}

// leading is the candidate that is believed most.
func (h hand) leading() []string {
	return call.VerdictIDs(h.lib.Candidates()[adviser.Lead(h.Belief())])
}

// verdictMinutes is how far into the call the first verdict was given.
func (h hand) verdictMinutes() float64 {
	for _, d := range h.Run().Deeds {
		if d.Act.Kind == call.Diagnose {
			return float64(d.Tick) * call.TickS / 60
		}
	}
	return 0
}
