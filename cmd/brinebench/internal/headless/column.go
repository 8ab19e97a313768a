package headless

import (
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"

	"brinebench/sim/resin"
	"brinebench/sim/water"
)

// Column runs "column CASE.json [--profile]": a bed alone, fed with one water
// after another, and prints what leaves it as CSV.
func Column(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("column", flag.ContinueOnError)
	fs.SetOutput(out)
	profile := fs.Bool("profile", false, "print the resin from the top after the last stage in place of the water that leaves")
	file, err := parse(fs, args)
	if err != nil {
		return err
	}
	if file == "" {
		return errors.New("no case file given; see column -h")
	}
	data, err := readFile(file, maxColumn)
	if err != nil {
		return err
	}
	c, err := decodeColumn(file, data)
	if err != nil {
		return err
	}
	t := &table{csv: csv.NewWriter(out)}
	run := c.runEquilibrium
	if c.kinetic {
		run = c.runKinetic
	}
	row := t.effluent
	if *profile {
		row = func(string, int, float64, water.Ions) {}
	} else {
		t.header("stage", "shift", "pore_volumes", "Na_mmol_L", "K_mmol_L", "Ca_mmol_L", "Mg_mmol_L", "Cl_mmol_L")
	}
	bed, err := run(row)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	if *profile {
		t.header("cell", "yNa", "yK", "yCa", "yMg")
		for j, y := range bed {
			t.profile(j+1, y)
		}
	}
	t.csv.Flush()
	return t.csv.Error()
}

// effluent takes the water (mol/m³) of the last cell in the direction of flow
// after a shift of a stage, counted from 1, and the pore volumes passed when
// that cell's middle will have left.
type effluent func(stage string, shift int, poreVolumes float64, w water.Ions)

// runEquilibrium returns the equivalent fractions on the resin, from the top.
func (c *columnCase) runEquilibrium(row effluent) ([]water.Ions, error) {
	k, err := resin.NewColumn(c.column())
	if err != nil {
		return nil, err
	}
	k.Equilibrate(c.startMmolL)
	passed := 0
	for _, s := range c.stages {
		up, last := s.direction == "up", c.cells-1
		if up {
			last = 0
		}
		for shift := 1; shift <= s.shifts; shift++ {
			if !k.Shift(s.inflowMmolL, up) {
				return nil, fmt.Errorf("stage %q, shift %d: no equilibrium was found", s.name, shift)
			}
			passed++
			row(s.name, shift, (float64(passed)+0.5)/float64(c.cells), k.Water(last))
		}
	}
	profile := make([]water.Ions, c.cells)
	for j := range profile {
		profile[j] = k.Resin(j)
	}
	return profile, nil
}

// runKinetic is runEquilibrium with the plant's own bed. A shift is the water of
// one cell, in two steps; the last shift of a stage may be a part of one. Water
// and resin are the means of the bed's parallel paths.
func (c *columnCase) runKinetic(row effluent) ([]water.Ions, error) {
	m, err := resin.NewModel(c.bed())
	if err != nil {
		return nil, err
	}
	var s resin.State
	m.Equilibrate(&s, c.startMmolL)
	passed := 0.0
	for _, stage := range c.stages {
		shifts := c.flow(stage) * stage.seconds / c.cellWaterM3()
		for n := 1; float64(n-1) < shifts-1e-9; n++ {
			part := min(1, shifts-float64(n-1))
			for range 2 {
				c.march(m, &s, stage, part/2)
			}
			passed += part
			row(stage.name, n, (passed+0.5)/resin.Cells, leaving(m, &s, stage.direction == "up"))
		}
	}
	profile := make([]water.Ions, resin.Cells)
	for j := range profile {
		for k := range resin.Paths {
			profile[j] = profile[j].Plus(1/(resin.Paths*m.Spec().CapacityEqM3), s.Q[k][j])
		}
	}
	return profile, nil
}

// march passes a part of a shift through the bed.
func (c *columnCase) march(m *resin.Model, s *resin.State, stage columnStage, part float64) {
	volume := part * c.cellWaterM3()
	p := resin.Ports{TopInM3: volume, BottomOutM3: volume, TopIn: stage.inflowMmolL, TempC: c.temperatureC}
	if stage.direction == "up" {
		p = resin.Ports{BottomInM3: volume, TopOutM3: volume, BottomIn: stage.inflowMmolL, TempC: c.temperatureC}
	}
	m.March(s, p, volume/c.flow(stage))
}

// leaving is the water of the last cells, by their share of the flow.
func leaving(m *resin.Model, s *resin.State, up bool) (w water.Ions) {
	last := resin.Cells - 1
	if up {
		last = 0
	}
	slow := 0.5 * (1 - m.Spec().PathSpread)
	return w.Plus(slow, s.C[0][last]).Plus(1-slow, s.C[1][last])
}

// table writes lines of CSV.
type table struct {
	csv  *csv.Writer
	line []string
}

func (t *table) header(names ...string) { _ = t.csv.Write(names) } // told by csv.Error

func (t *table) effluent(stage string, shift int, poreVolumes float64, w water.Ions) {
	t.line = append(t.line[:0], stage, strconv.Itoa(shift))
	t.write(poreVolumes, w[water.Na], w[water.K], w[water.Ca], w[water.Mg], w.Anion())
}

func (t *table) profile(cell int, y water.Ions) {
	t.line = append(t.line[:0], strconv.Itoa(cell))
	t.write(y[water.Na], y[water.K], y[water.Ca], y[water.Mg])
}

// write ends the line with numbers of 15 digits.
func (t *table) write(numbers ...float64) {
	for _, x := range numbers {
		t.line = append(t.line, strconv.FormatFloat(x, 'g', 15, 64))
	}
	_ = t.csv.Write(t.line)
}
