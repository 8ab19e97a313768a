package bench

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"brinebench/sim"
)

// Column is one column of an exported table.
type Column struct {
	Title    string // of a person's making: it may hold anything
	Unit     int
	Was      bool
	Quantity int
	Scale    func(si float64) float64 // into the unit shown
}

// CSV writes the columns over what has been lived from one tick to another, a row for
// each sample, the time in s first (RFC 4180). Where a column has no sample its cell is empty.
// No cell can be taken for a formula: see harmless.
func (b *Bench) CSV(time string, columns []Column, from, to int64) string {
	var text strings.Builder
	w := csv.NewWriter(&text)
	row := []string{harmless(time)}
	for _, c := range columns {
		row = append(row, harmless(c.Title))
	}
	_ = w.Write(row) // into memory
	first := max(from, b.run.log.first)
	for tick := first + (sampleTicks-first%sampleTicks)%sampleTicks; tick <= to; tick += sampleTicks {
		row = append(row[:0], number(float64(tick)*sim.TickS))
		for _, c := range columns {
			cell := ""
			if v, ok := b.Logged(c.Unit, c.Was, c.Quantity, tick); ok && tick <= b.endOf(c.Was) {
				cell = number(c.Scale(v))
			}
			row = append(row, cell)
		}
		_ = w.Write(row)
	}
	w.Flush()
	return text.String()
}

func (b *Bench) endOf(was bool) int64 {
	if was && b.trunk != nil {
		return b.trunk.end
	}
	return b.run.end
}

// number writes a number with six figures, as every spreadsheet reads it.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 6, 64)
}

// harmless writes a text so that a spreadsheet takes it for nothing else: what begins
// like a formula gets an apostrophe before it (OWASP, "CSV Injection", from memory).
func harmless(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, text)
	if t := strings.TrimSpace(text); t != "" && strings.ContainsRune("=+-@＝＋－＠−", []rune(t)[0]) {
		return "'" + text
	}
	return text
}
