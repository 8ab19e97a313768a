package sizing_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/sizing"
)

// What is no number and no sign in a printed line.
var (
	words    = regexp.MustCompile(`[a-zA-Z°][^0-9()+×÷−]*`)
	thousand = regexp.MustCompile(`([0-9.]+) kilograin/ft³`)
	grams    = regexp.MustCompile(`([0-9.]+) g/L`)
)

// worth works out a printed line from left to right, products before sums.
func worth(t *testing.T, line string) float64 {
	t.Helper()
	line = words.ReplaceAllString(grams.ReplaceAllString(thousand.ReplaceAllString(line, "$1 × 1000 "), "$1 ÷ 1000 "), " ")
	for strings.Contains(line, "(") {
		from := strings.LastIndex(line, "(")
		to := from + strings.Index(line[from:], ")")
		line = line[:from] + strconv.FormatFloat(worth(t, line[from+1:to]), 'f', -1, 64) + line[to+1:]
	}
	total := 0.0
	for _, term := range strings.Split(strings.ReplaceAll(line, "−", "+ −"), "+") {
		if strings.TrimSpace(term) == "" {
			continue
		}
		sign := 1.0
		if rest, minus := strings.CutPrefix(strings.TrimSpace(term), "−"); minus {
			term, sign = rest, -1
		}
		total += sign * product(t, term)
	}
	return total
}

func product(t *testing.T, term string) float64 {
	t.Helper()
	value, by := 1.0, true
	for _, word := range strings.Fields(term) {
		switch word {
		case "×":
			by = true
		case "÷":
			by = false
		default:
			x, err := strconv.ParseFloat(word, 64)
			require.NoError(t, err, term)
			if by {
				value *= x
			} else {
				value /= x
			}
		}
	}
	return value
}

// A line that is printed with its numbers comes to the result that is printed above it,
// in both systems of units; one with the sign for it has rounded numbers.
func TestPrintedLinesComeToTheirResults(t *testing.T) {
	sums := map[string]bool{}
	for _, f := range []sizing.Figure{
		sizing.RawHardness, sizing.CompensatedHardness, sizing.DailyWater, sizing.DailyLoad, sizing.FixtureUnits, sizing.PeakFlow, sizing.ServiceFlow, sizing.ResinNeeded, sizing.SaltDose,
		sizing.Capacity, sizing.Interval, sizing.RefillTime, sizing.RegenerationWater, sizing.RegenerationsPerYear, sizing.SaltPerYear, sizing.SaltAdded,
	} {
		sums[f.ID()] = true
	}
	for seed := range uint64(12) {
		sol := sizing.Solve(sizing.Drawn(seed))
		for _, st := range sol.Steps {
			if !sums[st.ID] {
				continue
			}
			for sys, line := range st.With {
				got, result := worth(t, line), leading(t, st.Result[sys])
				_, part, _ := strings.Cut(strings.Fields(st.Result[sys])[0], ".")
				off := 0.5*math.Pow(10, -float64(len(part))) + 1e-9 // half of the last digit
				if st.Sign[sys] == "≈" {
					off += 1e-4 * result
				}
				require.InDelta(t, result, got, off, "seed %d: %s: %s %s", seed, st.ID, st.Sign[sys], line)
			}
		}
	}
}

func leading(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.Fields(text)[0], 64)
	require.NoError(t, err)
	return x
}
