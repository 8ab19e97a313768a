package bench

import (
	"encoding/csv"
	"math"
	"net/url"
	"strings"
	"testing"

	"brinebench/sim"

	"github.com/stretchr/testify/require"
)

func TestALinkBringsBackTheSameBench(t *testing.T) {
	b := lived(t)
	l := Link{Plan: b.Plan(), Charts: []string{"pressure.2", "bed-left"}, OverS: 1800}
	text := l.Encode()
	require.Less(t, len(text), 600)
	parsed, err := url.Parse("http://localhost/bench.html#" + text)
	require.NoError(t, err)
	require.Equal(t, text, parsed.EscapedFragment(), "nothing has to be escaped")
	again, err := Decode(text)
	require.NoError(t, err)
	require.Equal(t, l, again)
	require.Equal(t, b.Hash(), begin(t, again.Plan).Hash())
}

func TestALinkSaysWhatIsWrongWithIt(t *testing.T) {
	const head = "v=1&units=free.standard&seed=1&tick=100"
	for text, says := range map[string]string{
		"":                                           "link: units: is missing",
		"v=2&units=free.standard":                    `link: v: "2"`,
		head + "&seed=2":                             "link: seed: is there twice",
		head + "&colour=red":                         "link: colour: is not known",
		"v=1&units=a,b,c&seed=1&tick=0":              "link: units: 3, more than 2",
		"v=1&units=../etc&seed=1&tick=0":             "link: units[0]:",
		"v=1&units=free.standard&seed=-1&tick=0":     "link: seed:",
		"v=1&units=free.standard&seed=1&tick=1e9":    "link: tick:",
		head + "&acts=5,0,supply":                    "link: acts[0]:",
		head + "&acts=5,0,supply,3e5;4,0,supply,3e5": "link: acts[1].tick: 4 is before",
		head + "&acts=500,0,supply,3e5":              "link: acts[0].tick: 500 is after",
		head + "&acts=5,1,supply,3e5":                "link: acts[0].unit: there is no unit 1",
		head + "&acts=5,0,colour,3e5":                "link: acts[0].knob:",
		head + "&acts=5,0,supply,NaN":                "link: acts[0].value:",
		head + "&charts=blue":                        "link: charts[0]:",
		head + "&charts=drum,draw,drum":              `link: charts[2]: "drum" is there twice`,
		head + "&over=-1":                            "link: over:",
		strings.Repeat("x", MaxLink+1):               "more than the 8192",
	} {
		_, err := Decode(text)
		require.ErrorContains(t, err, says, text)
	}
	_, err := Decode("v=2&units=../&seed=x&tick=-1")
	for _, field := range []string{"v:", "units[0]:", "seed:", "tick:"} {
		require.ErrorContains(t, err, "link: "+field, "all of them at once")
	}
	for _, acts := range []string{"0,0,supply,-3", "0,0,throat,0.0007", "0,0,people,1.5"} {
		l, err := Decode(head + "&acts=" + acts)
		require.NoError(t, err)
		_, err = New(l.Plan, put, standing)
		require.ErrorContains(t, err, "acts[0]: ")
	}
}

func FuzzDecode(f *testing.F) {
	f.Add("v=1&units=free.standard,call.x&seed=1&tick=100&acts=0,0,supply,3e5;4,1,fault.nozzle-plugged,0.5&charts=bed-left&over=300")
	f.Add("v=1&&units=&seed=&tick=")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := Decode(text)
		if err != nil {
			require.ErrorContains(t, err, "link: ")
			return
		}
		again, err := Decode(l.Encode())
		require.NoError(t, err)
		require.Equal(t, l, again)
	})
}

func TestALongLifeIsLinkedByItsSettings(t *testing.T) {
	b := lived(t)
	require.Equal(t, b.Plan(), b.Short(b.Plan(), 2000))
	short := b.Short(b.Plan(), 200)
	require.Zero(t, short.Tick)
	require.Len(t, short.Acts, 5) // the pushes are gone
}

func TestATableHoldsNoFormula(t *testing.T) {
	b := begin(t, Plan{})
	set(t, b, 0, "house-tap", 1)
	b.pass(60, 120)
	drain, _ := QuantityAt("flow.12")
	titles := []string{`=HYPERLINK("http://x")`, "+1+1", "-2", "@SUM(A1)", " =1", "\t=1", "＝1", "A, \"quoted\"", "plain\nline"}
	var columns []Column
	for _, title := range titles {
		columns = append(columns, Column{Title: title, Quantity: drain, Scale: func(si float64) float64 { return -si * 60000 }})
	}
	rows, err := csv.NewReader(strings.NewReader(b.CSV("time, s", columns, 0, b.EndTick()))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+61, "two minutes, a row every two seconds, both ends, and the head")
	for i, title := range rows[0] {
		require.NotRegexp(t, `^\s*[=+\-@＝]`, title, "column %d", i)
	}
	require.Equal(t, "'-2", rows[0][3])
	require.Equal(t, `A, "quoted"`, rows[0][8])
	require.Regexp(t, `^-\d+(\.\d+)?$`, rows[60][1], "a number stays a number")
}

func TestAChartShowsWhatWasLived(t *testing.T) {
	b := begin(t, Plan{})
	b.pass(60, 300)
	set(t, b, 0, "house-tap", 1)
	b.pass(60, 300)
	pressure, _ := QuantityAt("pressure.2")
	before, ok := b.Logged(0, false, pressure, 200*ticksPerS)
	require.True(t, ok)
	after, _ := b.Logged(0, false, pressure, 600*ticksPerS)
	require.Less(t, after, 0.95*before)
	require.InEpsilon(t, b.View(0, false).PressurePa[sim.NodeValveIn], after, 0.05)
	spans := b.Spans(nil, 0, false, pressure, -600*ticksPerS, 600*ticksPerS, 120)
	require.Greater(t, spans[10].Low, spans[10].High, "before the start there is nothing")
	require.InEpsilon(t, before, spans[80].High, 0.01)
	require.InEpsilon(t, after, spans[119].Low, 0.01)
	_, ok = b.Logged(0, false, pressure, 5000*ticksPerS)
	require.False(t, ok)
	for i := range quantities {
		require.False(t, math.IsNaN(quantities[i].Value(b.View(0, false))), quantities[i].ID)
	}
}
