package valve

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// encode writes a program the way a file has it.
func encode(p Program) []byte {
	type stop struct {
		ID      string   `json:"id"`
		Name    string   `json:"name"`
		Why     string   `json:"why"`
		Angle   float64  `json:"angle_deg"`
		Seconds float64  `json:"seconds"`
		Open    []string `json:"open"`
	}
	var stops []stop
	for _, st := range p.Stops {
		open := []string{}
		for s := range NumSeats {
			if st.Open[s] {
				open = append(open, s.String())
			}
		}
		stops = append(stops, stop{st.ID, st.Name, st.Why, st.AngleDeg, st.Seconds, open})
	}
	out, err := json.Marshal(struct {
		ID    string  `json:"id"`
		Name  string  `json:"name"`
		Why   string  `json:"why"`
		Drum  float64 `json:"drum_deg_s"`
		Below bool    `json:"injector_discharges_below"`
		Max   float64 `json:"max_refill_s"`
		Stops []stop  `json:"stops"`
	}{p.ID, p.Name, p.Why, p.DrumDegS, p.InjectorDischargesBelow, p.MaxRefillS, stops})
	if err != nil {
		panic(err)
	}
	return out
}

func TestDecodeReadsBackWhatWasWritten(t *testing.T) {
	for _, want := range programs(t) {
		p, err := DecodeProgram(want.ID+".json", encode(want))
		require.NoError(t, err)
		require.Equal(t, want, p)
	}
}

func TestDecodeRefusesByFileAndField(t *testing.T) {
	good := string(encode(Standard()))
	rows := []struct{ name, old, new, want string }{
		{"unknown field", `"drum_deg_s"`, `"drum_speed"`, `drum_speed: unknown field`},
		{"missing field", `"drum_deg_s":3,`, ``, `drum_deg_s is missing`},
		{"wrong case", `"drum_deg_s"`, `"Drum_Deg_S"`, `Drum_Deg_S: unknown field`},
		{"repeated field", `"drum_deg_s":3`, `"drum_deg_s":3,"drum_deg_s":4`, `drum_deg_s: given twice`},
		{"null", `"drum_deg_s":3`, `"drum_deg_s":null`, `drum_deg_s: null`},
		{"text for a number", `"drum_deg_s":3`, `"drum_deg_s":"3"`, `drum_deg_s: `},
		{"too large a number", `"seconds":600`, `"seconds":1e999`, `stops[1].seconds: `},
		{"NaN", `"seconds":600`, `"seconds":NaN`, `invalid character`},
		{"no refill can be held", `"max_refill_s":900`, `"max_refill_s":0`, `max_refill_s: 0`},
		{"no reason given", `"why":"Full flow`, `"wherefore":"Full flow`, `stops[3].wherefore: unknown field`},
		{"negative time", `"seconds":600`, `"seconds":-600`, `stops[1].seconds: -600`},
		{"unknown seat", `"upflow"`, `"riser"`, `stops[1].open[1]: no seat is named "riser"`},
		{"seat twice", `"upflow"`, `"pass"`, `stops[1].open[1]: seat "pass" is named twice`},
		{"angle repeated", `"angle_deg":144`, `"angle_deg":72`, `stops[2].angle_deg: 72 does not come after 72`},
		{"angle out of order", `"angle_deg":144`, `"angle_deg":60`, `stops[2].angle_deg: 60 does not come after 72`},
		{"more than one value", `}]}`, `}]} {}`, `more follows`},
		{"not an object", good, `[]`, `not an object`},
		{"empty", good, ``, `EOF`},
		{"unknown field in a stop", `"seconds":600`, `"seconds":600,"minutes":10`, `stops[1].minutes: unknown field`},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			require.Contains(t, good, row.old)
			_, err := DecodeProgram("p.json", []byte(strings.Replace(good, row.old, row.new, 1)))
			require.ErrorContains(t, err, "p.json: ")
			require.ErrorContains(t, err, row.want)
		})
	}
}

func TestDecodeReportsAllFaultsAtOnce(t *testing.T) {
	_, err := DecodeProgram("p.json", []byte(`{"id":1,"colour":"red","stops":[{"id":"service","open":["lid"]}]}`))
	for _, want := range []string{
		"p.json: id: ", "p.json: colour: unknown field", "p.json: name is missing", "p.json: drum_deg_s is missing",
		`p.json: stops[0].open[0]: no seat is named "lid"`, "p.json: stops[0]: angle_deg is missing",
	} {
		require.ErrorContains(t, err, want)
	}
}

func FuzzDecodeProgram(f *testing.F) {
	for _, p := range programs(f) {
		f.Add(encode(p))
	}
	f.Add([]byte(`{"id":1,"stops":[{"open":["lid",null]}]}`))
	f.Add([]byte(`{"stops":[[[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := DecodeProgram("fuzz.json", data)
		if err != nil {
			return
		}
		require.Empty(t, p.Validate())
		for deg := 0.0; deg < 360; deg += 4.5 {
			if !served(&p, deg) {
				t.Fatalf("house without water at %v°", deg)
			}
		}
		again, err := DecodeProgram("again.json", encode(p))
		require.NoError(t, err)
		require.Equal(t, p, again)
	})
}
