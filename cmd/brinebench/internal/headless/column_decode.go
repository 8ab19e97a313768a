package headless

import (
	"encoding/json"
	"math"

	"brinebench/sim/resin"
	"brinebench/sim/strict"
	"brinebench/sim/water"
)

// Limits of a case: what still has a meaning, and what ends while one waits.
const (
	maxColumn  = 1 << 20     // bytes
	maxShifts  = 5_000_000   // of all stages
	maxSettled = 100_000_000 // times that a cell is brought to equilibrium
	maxMarched = 200_000     // shifts of the kinetic bed
	maxMmolL   = 1e5
	maxLogK    = 50
)

// columnCase is the file of a column run, in its own units. What may be left
// out is 0 then.
type columnCase struct {
	kinetic                                      bool
	depthM, capacityEqL, void                    float64
	cells                                        int
	dispersivityM, areaM2, flowM3S, temperatureC float64
	logK, startMmolL                             water.Ions
	hasLogK                                      [water.NumIons]bool
	stages                                       []columnStage
}

// columnStage is one inflow for a while. seconds, and a flow of its own, are for
// kinetic exchange, shifts for equilibrium.
type columnStage struct {
	name, direction  string
	inflowMmolL      water.Ions
	shifts           int
	seconds, flowM3S float64
}

// ionNames stand in the order of [water.Ions].
var ionNames = [water.NumIons]string{"Na", "K", "Ca", "Mg"}

// decodeColumn reads a case. The error names every fault of the file.
func decodeColumn(file string, data []byte) (*columnCase, error) {
	var how struct{ Exchange any }
	quoted := quoteBareWords(data)
	_ = json.Unmarshal(quoted, &how) // only what must stand in the file; its faults are found below
	c := &columnCase{kinetic: how.Exchange == "kinetic", cells: resin.Cells, temperatureC: 20}
	w := &strict.Walk{}
	w.Members("", quoted, c.members(w))
	if json.Valid(quoted) { // otherwise what is missing may stand where it could not be read
		c.check(w)
	}
	if w.Clean() && !json.Valid(data) {
		w.Fault("", "a text without quotation marks")
	}
	return c, w.Err(file)
}

// members are those of the file. Those that only the other kind of exchange
// needs may stand in it too, so that one file serves for both.
func (c *columnCase) members(w *strict.Walk) []strict.Field {
	var exchange string
	cells := w.Integer("cells", &c.cells, 1, resin.MaxCells)
	cells.Optional = c.kinetic
	area := mayLack(w.Number("area_m2", &c.areaM2, 1e-8, 1e4))
	return []strict.Field{
		w.Object("bed",
			w.Number("depth_m", &c.depthM, 1e-6, 1e4),
			w.Number("capacity_eq_per_L", &c.capacityEqL, 1e-9, 1e3),
			w.Number("void", &c.void, 1e-3, 1),
			cells, area),
		w.Text("exchange", &exchange, "equilibrium", "kinetic"),
		mayLack(w.Number("dispersivity_m", &c.dispersivityM, 0, 1e6)),
		mayLack(w.Number("flow_m3_s", &c.flowM3S, 1e-12, 10)), area,
		mayLack(w.Number("temperature_C", &c.temperatureC, 0, 50)),
		ions(w, "log_k", &c.logK, &c.hasLogK, -maxLogK, maxLogK),
		then(ions(w, "start_in_equilibrium_with_mmol_L", &c.startMmolL, new([water.NumIons]bool), 0, maxMmolL), func(at string) {
			if c.startMmolL == (water.Ions{}) {
				w.Fault(at, "holds no ion, so that the form of the resin is not known")
			}
		}),
		then(w.Each("stages", func(at string, raw []byte) {
			s := columnStage{direction: "down"}
			shifts, seconds := w.Integer("shifts", &s.shifts, 1, maxShifts), w.Number("seconds", &s.seconds, 1e-3, 1e9)
			shifts.Optional, seconds.Optional = c.kinetic, !c.kinetic
			w.Members(at, raw, []strict.Field{
				w.Text("name", &s.name),
				ions(w, "inflow_mmol_L", &s.inflowMmolL, new([water.NumIons]bool), 0, maxMmolL),
				shifts, seconds,
				mayLack(w.Number("flow_m3_s", &s.flowM3S, 1e-12, 10)),
				mayLack(w.Text("direction", &s.direction, "down", "up")),
			})
			c.stages = append(c.stages, s)
		}), func(at string) {
			if len(c.stages) == 0 {
				w.Fault(at, "none")
			}
		}),
	}
}

func mayLack(f strict.Field) strict.Field {
	f.Optional = true
	return f
}

// then adds a check to a reader.
func then(f strict.Field, check func(at string)) strict.Field {
	read := f.Read
	f.Read = func(at string, raw []byte) {
		read(at, raw)
		check(at)
	}
	return f
}

// ions returns the reader of a number for any of the ions, and notes in given
// which ones there are.
func ions(w *strict.Walk, key string, to *water.Ions, given *[water.NumIons]bool, lo, hi float64) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		var fields []strict.Field
		for i, name := range ionNames {
			fields = append(fields, seen(w.Number(name, &to[i], lo, hi), &given[i]))
		}
		w.Members(at, raw, fields)
	}}
}

// check finds the faults of the case as a whole.
func (c *columnCase) check(w *strict.Walk) {
	c.checkIons(w)
	if c.kinetic {
		c.checkKinetic(w)
	} else {
		c.checkEquilibrium(w)
	}
}

// checkIons finds ions in the water without a constant.
func (c *columnCase) checkIons(w *strict.Walk) {
	held := c.startMmolL
	for _, s := range c.stages {
		held = held.Plus(1, s.inflowMmolL)
	}
	for i, name := range ionNames {
		if held[i] > 0 && !c.hasLogK[i] {
			w.Fault("log_k", "%s is missing, which is in the water", name)
		}
	}
}

// checkEquilibrium finds runs that would not end while one waits.
func (c *columnCase) checkEquilibrium(w *strict.Walk) {
	shifts := 0
	for _, s := range c.stages {
		shifts += s.shifts
	}
	if shifts > maxShifts {
		w.Fault("stages", "%d shifts in all, at most %d", shifts, maxShifts)
	}
	if c.depthM == 0 || c.cells < 1 { // refused
		return
	}
	sp := c.column()
	if reach := sp.Reach(); reach > resin.MaxReach {
		w.Fault("dispersivity_m", "%v is the length of %.4g cells, at most %d", c.dispersivityM, reach, resin.MaxReach)
	} else if turns := float64(shifts) * float64(sp.Cells) * float64(1+sp.Mixes()); turns > maxSettled {
		w.Fault("stages", "%.4g turns (shifts × cells × rounds of mixing), at most %d", turns, maxSettled)
	}
}

// checkKinetic finds what the plant's own bed needs or cannot be.
func (c *columnCase) checkKinetic(w *strict.Walk) {
	if c.areaM2 == 0 {
		w.Fault("", "area_m2 is missing")
	}
	if c.void == 1 {
		w.Fault("bed.void", "1, but the bed of kinetic exchange has beads")
	}
	if c.cells != resin.Cells {
		w.Fault("bed.cells", "%d, but the bed of kinetic exchange has %d", c.cells, resin.Cells)
	}
	if c.dispersivityM != 0 {
		w.Fault("dispersivity_m", "%v, but the bed of kinetic exchange spreads of itself: 0 or nothing", c.dispersivityM)
	}
	shifts := 0.0
	for i, s := range c.stages {
		if c.flow(s) == 0 {
			w.Fault("", "flow_m3_s is missing, which stages[%d] needs", i)
		}
		if water := c.cellWaterM3(); water > 0 {
			shifts += c.flow(s) * s.seconds / water
		}
	}
	if shifts > maxMarched {
		w.Fault("stages", "%.4g shifts in all, at most %d", shifts, maxMarched)
	}
}

// flow of a stage, m³/s.
func (c *columnCase) flow(s columnStage) float64 {
	if s.flowM3S > 0 {
		return s.flowM3S
	}
	return c.flowM3S
}

// cellWaterM3 is the water between the beads of one cell: a shift.
func (c *columnCase) cellWaterM3() float64 { return c.areaM2 * c.depthM * c.void / resin.Cells }

// column is the bed for equilibrium.
func (c *columnCase) column() resin.ColumnSpec {
	return resin.ColumnSpec{
		DepthM: c.depthM, CapacityEqM3: 1000 * c.capacityEqL, Void: c.void, Cells: c.cells,
		DispersivityM: c.dispersivityM, LogK: c.logK,
	}
}

// bed is the plant's own bed with this capacity, void and selectivity, and next
// to no water above and below it.
func (c *columnCase) bed() resin.Spec {
	bulkM3 := c.areaM2 * c.depthM
	sp := resin.DefaultSpec(bulkM3, c.areaM2)
	sp.CapacityEqM3, sp.Void = 1000*c.capacityEqL, c.void
	sodium := c.logK[water.Na]
	sp.KK = math.Pow(10, c.logK[water.K]-sodium)
	sp.KCa = math.Pow(10, c.logK[water.Ca]-2*sodium)
	sp.KMg = math.Pow(10, c.logK[water.Mg]-2*sodium)
	sp.FreeboardM3, sp.PlenumM3 = 1e-9*bulkM3, 1e-9*bulkM3
	return sp
}
