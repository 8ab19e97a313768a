package call

import (
	"fmt"
	"slices"
	"strings"

	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/water"
)

// Call is one service call in progress. It is plain data but for the model;
// Do and Tick write it.
type Call struct {
	model *plant.Model
	Plant *plant.State
	Seed  uint64 // of the instruments' noise

	Ticks     int64        // since the call was opened
	Busy      bool         // an act is under way
	BusyUntil int64        // tick at which it ends
	Current   Act          // that act
	Journal   []Entry      // oldest first
	Opened    []plant.Part // dismantled now
	Verdict   *Act         // the last Diagnose; nil before
	Finished  bool
	Events    int // happenings a person may wait for, counted

	// Heedless skips the checks of safety and the noise of instruments. Debrief
	// sets it in the shadow calls that replay a trainee's acts on units with
	// other faults.
	Heedless bool

	// Dry is set while no water has been let in since the valve was off the tank, and
	// Emptied where the tank was emptied then. The act does it.
	Dry, Emptied bool

	// Help says what a step of help tells of the unit as it stands. The façade sets
	// it; nil tells nothing.
	Help func(rung string) string

	entry int             // place in the Journal of the act under way
	salty bool            // salt water is running from the house tap
	from  plant.Ledger    // books as the act under way began
	fromS float64         // time then, s
	done  []string        // what there is to say of the work under way
	taps  [2]float64      // house and raw tap as they were before a test ran them
	was   plant.Happening // at the last tick
	clean bool            // resin cleaner was put into the bed
	rinse float64         // water that had gone to the drain by then, m³
}

// New opens a call on a plant in the given state, which the call takes over.
// The household is asked to draw no water while the work goes on.
func New(m *plant.Model, s *plant.State, seed uint64) *Call {
	s.NoDraw = true
	c := &Call{model: m, Plant: s, Seed: seed}
	c.was = m.Happening(s)
	return c
}

// Model returns the plant's model.
func (c *Call) Model() *plant.Model { return c.model }

// Errors of acts that cannot be begun.
var (
	ErrBusy     = &Refusal{Why: "Another act is under way."}
	ErrFinished = &Refusal{Why: "The call is closed."}
	ErrTooLong  = &Refusal{Why: "This call has lasted for days: nothing more is done in it."}
)

// Do begins one act. An act that cannot be begun at all is an error and leaves
// no trace; one that would be unsafe is stopped and entered in the journal.
func (c *Call) Do(a Act) error {
	switch {
	case c.Finished:
		return ErrFinished
	case c.Busy:
		return ErrBusy
	case c.Ticks >= MaxTicks:
		return ErrTooLong
	}
	minutes, err := c.admit(a)
	if err != nil {
		return err
	}
	e := Entry{Tick: c.Ticks, Station: c.Plant.Control.Station, Action: a}
	if why := c.unsafe(a); why != "" && !c.Heedless {
		e.Unsafe, e.Text = true, why
		minutes = unsafeMinutes
		a = Act{Kind: Unsafe}
	}
	c.entry = len(c.Journal)
	c.Journal = append(c.Journal, e)
	c.Current, c.Busy = a, true
	c.BusyUntil = c.Ticks + int64(minutes*60/TickS)
	c.begin(a)
	if c.BusyUntil == c.Ticks {
		c.end()
	}
	return nil
}

// MaxTicks is the longest that a call may last: three days, as a recording may.
const MaxTicks = 3 * 86400 / TickS

// Unsafe stands in for an act that was stopped: it takes its time and does nothing.
const Unsafe Kind = "stopped"

const unsafeMinutes = 2

// Tick moves the call on by TickS seconds.
func (c *Call) Tick() {
	if c.Ticks >= MaxTicks {
		return
	}
	c.model.Step(c.Plant, TickS)
	c.Ticks++
	c.notice()
	if c.Busy && c.Ticks >= c.BusyUntil {
		c.end()
	}
}

// RunTo moves the call on to a tick in steps as long as the plant allows. It is
// for calls that nobody watches: quicker than Tick, and not equal to it bit for bit.
func (c *Call) RunTo(tick int64) {
	for c.Ticks < tick {
		to := tick
		if c.Busy {
			to = min(to, c.BusyUntil)
		}
		n := min(to-c.Ticks, max(1, int64(c.model.MaxStep(c.Plant)/TickS)))
		c.model.Step(c.Plant, float64(float64(n)*TickS))
		c.Ticks += n
		c.notice()
		if c.Busy && c.Ticks >= c.BusyUntil {
			c.end()
		}
	}
}

// notice counts what a person may be waiting for.
func (c *Call) notice() {
	now := c.model.Happening(c.Plant)
	c.Events += now.Since(c.was)
	c.was = now
	c.watchHouse()
}

// Mishap is the kind of a journal entry that is no act: something went wrong.
const Mishap Kind = "mishap"

// watchHouse enters it in the journal when salt water reaches an open tap.
func (c *Call) watchHouse() {
	flowing := c.model.Flow(c.Plant, plant.House) > runsM3S
	salty := flowing && c.model.Water(c.Plant, plant.HouseSide)[water.Na] > plant.SaltyMolM3
	if salty && !c.salty && !c.Heedless {
		c.Journal = append(c.Journal, Entry{
			Tick: c.Ticks, EndTick: c.Ticks, Action: Act{Kind: Mishap}, Unsafe: true,
			Text: "WARNING: Salt water ran from the house tap: the unit was put into service before the brine was rinsed out.",
		})
		c.Events++
	}
	c.salty = salty
}

// begin does what an act does at its start.
func (c *Call) begin(a Act) {
	s := c.Plant
	c.from, c.fromS = s.Ledger, s.TimeS
	switch a.Kind {
	case StartRegen:
		s.StartNow = true
	case Advance:
		s.AdvanceNow = true
	case Bypass:
		s.Bypass = plant.BypassPos(slices.Index(BypassNames, a.ID))
	case ShutOff:
		s.ShutOff = a.Value > 0
	case Power:
		s.Powered = a.Value > 0
	case HouseTap:
		s.HouseTap = a.Value
	case RawTap:
		s.RawTap = a.Value
	case Test:
		in, _ := instrument.Find(a.ID)
		c.taps = [2]float64{s.HouseTap, s.RawTap}
		s.HouseTap = max(s.HouseTap, in.RunHouseTap)
		s.RawTap = max(s.RawTap, in.RunRawTap)
	case Refit:
		c.Opened = slices.DeleteFunc(c.Opened, func(p plant.Part) bool { return p == a.Part })
		c.fitted()
	case Diagnose:
		c.Verdict = &a
	}
	if c.Dry && s.Bypass == plant.BypassService && !s.ShutOff {
		c.Dry, c.Emptied, c.Journal[c.entry].Filled = false, false, true
	}
}

// empty takes the resin out of the tank, and puts it back in once the riser stands.
func (c *Call) empty() {
	c.Emptied = true
	c.model.Empty(c.Plant)
}

// fitted has the plant know of the parts that are off.
func (c *Call) fitted() {
	c.Plant.HoseOff = c.IsOpen(plant.PartDrainLine)
	c.Plant.Aired = c.gaping() != nil
}

// BypassNames are the positions of the bypass, in the order of plant.BypassPos.
var BypassNames = []string{"service", "bypass", "shut"}

// end finishes the act under way.
func (c *Call) end() {
	a, e := c.Current, &c.Journal[c.entry]
	c.Busy = false
	c.Events++
	e.EndTick = c.Ticks
	heed := c.heed(a)
	switch a.Kind {
	case Unsafe:
		return
	case Test:
		in, _ := instrument.Find(a.ID)
		e.Reading = c.read(in)
		c.Plant.HouseTap, c.Plant.RawTap = c.taps[0], c.taps[1]
	case Open:
		c.Opened = append(c.Opened, a.Part)
		c.Dry = c.Dry || UnderValve(a.Part)
		c.fitted()
		if a.Part == plant.PartLowerDist {
			c.empty()
		}
		if in, ok := instrument.LookAt(a.Part); ok {
			e.Reading = c.read(in)
		}
	case Clean, Adjust, Replace:
		filled := a.Kind == Replace && a.Part == plant.PartSalt && c.fillSalt()
		e.Mended = c.repair(a.Part, fault.Work(a.Kind))
		if a.Kind == Replace && a.Part == plant.PartRiser {
			c.empty()
		}
		if a.Part == plant.PartBed {
			c.clean, c.rinse = a.Kind == Clean, c.Plant.Ledger.DrainM3
		}
		e.Needless = !e.Mended && !filled && !c.mayHaveStopped(a)
	case Bail:
		e.Needless = !c.model.Bail(c.Plant)
	case Lubricate:
		e.Needless = a.ID != Lubricants[0]
	case Finish:
		c.Finished = true
	}
	e.Text = strings.Join(append([]string{c.tell(a)}, append(c.left(a), heed...)...), " ")
}

// mayHaveStopped reports whether an act sets a clock that had the plug out, however short:
// nobody is to read it first.
func (c *Call) mayHaveStopped(a Act) bool {
	return a.Kind == Adjust && a.Part == plant.PartController &&
		slices.ContainsFunc(c.Journal, func(e Entry) bool { return e.Action.Kind == Power && e.Action.Value == 0 })
}

// left says what there is to know of the work that was done, what is heard of it, and what
// it has not taken away of an opened part: that is in one's hands.
func (c *Call) left(a Act) []string {
	switch {
	case c.Journal[c.entry].Filled:
		return []string{c.tellFilled()}
	case a.Kind == Adjust && a.Part == plant.PartHouse:
		return c.done
	case a.Kind == Clean && a.Part == plant.PartSalt && c.Journal[c.entry].Mended:
		return []string{"Water that stood clear of the salt is weak: let it stand, and read it before a regeneration."}
	case a.Kind != Clean && a.Kind != Adjust || !c.IsOpen(a.Part):
		return nil
	}
	seen := fault.Look(&c.Plant.Cond, a.Part, "")
	if seen == "" {
		return nil
	}
	return []string{"Still to be seen: " + seen + "."}
}

// heed returns the cautions that what is found wrong asks for.
func (c *Call) heed(a Act) []string {
	p, ok := Part(a.Part)
	if !ok || a.Kind == Refit || (p.CanOpen && a.Kind != Open) {
		return nil // told when it was opened
	}
	return fault.Cautions(&c.Plant.Cond, a.Part)
}

// repair works on a part and reports whether that changed the unit.
func (c *Call) repair(p plant.Part, w fault.Work) bool {
	after := c.Plant.Cond
	c.done = fault.Do(&after, p, w)
	mended := after != c.Plant.Cond
	if mended {
		c.model.Suffer(c.Plant, after)
	}
	switch p {
	case plant.PartDrum, plant.PartMotor: // put together with drum and pointer at service
		c.Plant.HomeNow = mended
	case plant.PartController:
		mended = c.model.SetClock(c.Plant) || mended
	}
	return mended
}

// fillSalt brings the salt up to what the tank was set up with. It reports
// whether there was room for a bag.
func (c *Call) fillSalt() bool {
	const bagKg = 10
	missing := c.model.SaltMissingKg(c.Plant)
	if missing > 0 {
		c.model.AddSalt(c.Plant, missing)
	}
	return missing > bagKg
}

// read takes a reading with the noise of this instrument at this tick; what somebody
// remembers, and what else is always the same, errs always alike.
func (c *Call) read(in *instrument.Instrument) *Reading {
	name := in.ID
	if !in.Fixed {
		name = fmt.Sprintf("%s@%d", in.ID, c.Ticks)
	}
	r := repro.NewStream(c.Seed, name)
	x := in.Over(c.model, c.Plant, &c.from, c.Plant.TimeS-c.fromS)
	if !c.Heedless {
		x = in.Noisy(x, &r)
	}
	out := ReadingOf(in, x)
	out.Tick = c.Ticks
	return &out
}

// ReadingOf is what an instrument has shown as the result of a test that was made at
// tick 0.
func ReadingOf(in *instrument.Instrument, x instrument.Reading) Reading {
	r := Reading{Instrument: in.ID, Name: in.Name, Value: x.Value, Unit: in.Quantity, Text: x.Seen}
	if x.Seen != "" {
		r.Unit = instrument.Sighting
	}
	return r
}

// IsOpen reports whether a part is dismantled.
func (c *Call) IsOpen(p plant.Part) bool { return slices.Contains(c.Opened, p) }

// Minutes is the time the call has taken.
func (c *Call) Minutes() float64 { return float64(c.Ticks) * TickS / 60 }

// Hash returns a hash of plant and call.
func (c *Call) Hash() uint64 {
	h := repro.NewHash()
	h.Uint64(c.Plant.Hash())
	h.Int64(c.Ticks)
	h.Bool(c.Busy)
	h.Int64(c.BusyUntil)
	h.Bool(c.Finished)
	h.Int64(int64(c.Events))
	h.Bool(c.Dry)
	h.Bool(c.Emptied)
	for _, p := range c.Opened {
		h.String(string(p))
	}
	for i := range c.Journal {
		c.Journal[i].hash(&h)
	}
	return h.Sum()
}

func (e *Entry) hash(h *repro.Hash) {
	h.Int64(e.Tick)
	h.Int64(e.EndTick)
	h.String(string(e.Action.Kind))
	h.String(string(e.Action.Part))
	h.String(e.Action.ID)
	h.String(e.Action.Text)
	h.Float64(e.Action.Value)
	h.String(e.Text)
	h.Bool(e.Unsafe)
	h.Bool(e.Filled)
	h.Bool(e.Mended)
	h.Bool(e.Needless)
	if e.Reading != nil {
		h.String(e.Reading.Instrument)
		h.Float64(e.Reading.Value)
		h.String(e.Reading.Text)
	}
}
