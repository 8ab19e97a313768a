package headless

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// works is a case of the given nodes and links.
func works(nodes, links string) []byte {
	return fmt.Appendf(nil, `{"g_m_s2": 9.80665, "density_kg_m3": 998.2, "viscosity_Pa_s": 0.001, "nodes": [%s], "links": [%s]}`, nodes, links)
}

const (
	source = `{"id": "R", "head_m": 40}, {"id": "A", "elevation_m": 0}, {"id": "B", "elevation_m": 2}`
	main25 = `{"id": "M", "from": "R", "to": "A", "kind": "minor", "diameter_m": 0.025, "k": 5}`
	nozzle = `{"id": "O", "from": "B", "kind": "orifice", "diameter_m": 0.006, "cd": 0.62}`
	valve  = `{"id": "V", "from": "A", "to": "B", "diameter_m": 0.02, "k": 4, `
)

func TestRegulatorNeverPassesMoreThanItsFlow(t *testing.T) {
	for _, head := range []float64{3, 5, 10, 40, 400, 4000} {
		text := strings.Replace(string(works(source, main25+","+nozzle+","+valve+`"kind": "regulator", "flow_L_s": 0.2}`)), "40", fmt.Sprint(head), 1)
		answer := ask(t, []byte(text))
		require.Equal(t, "solved", answer.Status)
		flow := answer.Links["V"].FlowLS
		open := 0.62 * math.Pi / 4 * 36e-6 * math.Sqrt(2*9.80665*(head-2)) * 1000 // with no loss before it
		if open > 0.21 {
			require.InEpsilon(t, 0.2, flow, 2e-6, "at %g m", head)
		}
		require.LessOrEqual(t, flow, 0.2, "at %g m", head)
		require.LessOrEqual(t, flow, open, "at %g m", head)
		require.InDelta(t, flow, answer.Links["O"].FlowLS, 1e-9)
	}
}

func TestReducerHoldsItsPressureAboveItsNode(t *testing.T) {
	for _, set := range []float64{1, 10, 20, 39, 60} {
		answer := ask(t, works(source, main25+","+nozzle+","+valve+fmt.Sprintf(`"kind": "reducer", "pressure_m": %g}`, set)))
		require.Equal(t, "solved", answer.Status)
		head, flow := answer.Nodes["B"].HeadM, answer.Links["O"].FlowLS
		if set < 37 {
			require.InDelta(t, set+2, head, 1e-5)
		} else {
			require.Less(t, head, 40.0)
		}
		require.InEpsilon(t, 0.62*math.Pi/4*36e-6*math.Sqrt(2*9.80665*(head-2))*1000, flow, 1e-6)
	}
}

func TestOrificeAboveTheWaterDrawsNoAir(t *testing.T) {
	nodes := strings.Replace(source, `"elevation_m": 2`, `"elevation_m": 50`, 1)
	answer := ask(t, works(nodes, main25+","+nozzle+","+valve+`"kind": "minor"}`))
	require.Equal(t, "solved", answer.Status)
	require.InDelta(t, 0, answer.Links["O"].FlowLS, 1e-8)
	require.InDelta(t, 40, answer.Nodes["B"].HeadM, 1e-6)
}

func TestCheckHoldsAgainstReverseFlowInNetworks(t *testing.T) {
	for kind, more := range map[string]string{"minor": "", "pipe": `"length_m": 3, "roughness_m": 1e-5, `} {
		answer := ask(t, works(source, main25+","+nozzle+`,{"id": "V", "from": "B", "to": "A", "diameter_m": 0.02, "k": 4, "check": true, `+more+`"kind": "`+kind+`"}`))
		require.Equal(t, "solved", answer.Status)
		require.InDelta(t, 0, answer.Links["V"].FlowLS, 1e-7, kind)
		require.InDelta(t, 2, answer.Nodes["B"].HeadM, 1e-3, "empty behind the check: %s", kind)
	}
}

func TestDemandThatCannotBeMetIsTold(t *testing.T) {
	thirsty := strings.Replace(source, `"elevation_m": 2`, `"elevation_m": 2, "demand_L_s": 1`, 1)
	for _, link := range []string{
		valve + `"kind": "regulator", "flow_L_s": 0.2}`,
		`{"id": "V", "from": "B", "to": "A", "diameter_m": 0.02, "k": 4, "kind": "minor", "check": true}`,
	} {
		require.Equal(t, "unmet", ask(t, works(thirsty, main25+","+link)).Status, link)
	}
}

func TestEveryFaultOfACaseIsNamed(t *testing.T) {
	good := string(works(source, main25+","+nozzle+","+valve+`"kind": "minor"}`))
	_, err := decodePipework("c.json", []byte(good))
	require.NoError(t, err)
	for _, row := range []struct{ situation, old, with, want string }{
		{"not a number", `"head_m": 40`, `"head_m": NaN`, "nodes[0].head_m: NaN is not a finite number"},
		{"minus infinity", `"head_m": 40`, `"head_m": -Infinity`, "nodes[0].head_m: -Infinity is not a finite number"},
		{"beyond all numbers", `0.025`, `1e400`, "links[0].diameter_m: 1e400 is not a finite number"},
		{"negative diameter", `0.025`, `-0.025`, "links[0].diameter_m: -0.025 is outside"},
		{"no bore", `0.025`, `0`, "links[0].diameter_m: 0 is outside"},
		{"a word for a number", `0.025`, `"wide"`, "links[0].diameter_m: wide is not a finite number"},
		{"null", `0.025`, `null`, "links[0].diameter_m: null"},
		{"no density", `998.2`, `0`, "density_kg_m3: 0 is outside"},
		{"missing", `"g_m_s2": 9.80665, `, ``, "g_m_s2 is missing"},
		{"unknown field", `"cd": 0.62`, `"cd": 0.62, "k": 1`, "links[1].k: unknown field"},
		{"unknown kind", `"orifice"`, `"sieve"`, `links[1].kind: "sieve" is none of`},
		{"unknown node", `"to": "B"`, `"to": "C"`, `links[2].to: no node is named "C"`},
		{"two nodes of a name", `"id": "B"`, `"id": "A"`, `nodes[2].id: "A" is the id of another node`},
		{"two links of a name", `"id": "O"`, `"id": "M"`, `links[1].id: "M" is the id of another link`},
		{"an id that is none", `"id": "B"`, `"id": 7`, "nodes[2].id: "},
		{"from a node to itself", `"to": "B"`, `"to": "A"`, `links[2]: from "A" to itself`},
		{"an island", `"to": "B"`, `"to": "R"`, `nodes[2]: "B": no link leads from it to a node with head_m`},
		{"head and elevation", `"head_m": 40`, `"head_m": 40, "elevation_m": 1`, "nodes[0]: a node has either elevation_m or head_m"},
		{"neither", `, "elevation_m": 0`, ``, "nodes[1]: a node has either elevation_m or head_m"},
		{"demand where the head is given", `"head_m": 40`, `"head_m": 40, "demand_L_s": 1`, "nodes[0]: demand_L_s"},
		{"orifice without a height", `"from": "B"`, `"from": "R"`, `links[1].from: "R" has no elevation_m`},
		{"reducer to a given head", `"to": "B", "diameter_m": 0.02, "k": 4, "kind": "minor"`, `"to": "R", "diameter_m": 0.02, "k": 4, "kind": "reducer", "pressure_m": 3`, `links[2].to: "R"`},
		{"rough as a pipe is wide", `"k": 4, "kind": "minor"`, `"k": 4, "kind": "pipe", "length_m": 1, "roughness_m": 0.01`, "links[2].roughness_m: 0.01 is more than"},
		{"cut off", `]}`, ``, "c.json: "},
		{"a list that is none", `"nodes": [`, `"nodes": 3, "other": [`, "nodes: "},
	} {
		t.Run(row.situation, func(t *testing.T) {
			text := strings.Replace(good, row.old, row.with, 1)
			require.NotEqual(t, good, text)
			_, err := decodePipework("c.json", []byte(text))
			require.ErrorContains(t, err, row.want)
		})
	}
}

func TestFaultsOfACaseAreToldTogether(t *testing.T) {
	nodes := strings.Replace(source, "40", "NaN", 1) + `, {"id": "I", "elevation_m": 0}, {"id": "A", "elevation_m": 0}`
	links := strings.Replace(main25, "0.025", "-1", 1) + "," + strings.Replace(nozzle, "orifice", "hole", 1) + "," + valve + `"kind": "minor", "k": 1e400, "wide": 1}`
	_, err := decodePipework("c.json", works(nodes, links))
	for _, part := range []string{"nodes[0].head_m", "nodes[4].id", "links[0].diameter_m", "links[1].kind", "links[2].k", "links[2].wide", `"I": no link`} {
		require.ErrorContains(t, err, part)
	}
}

func TestGreatCasesAreBounded(t *testing.T) {
	many := strings.Repeat(`{"id": "x", "elevation_m": 0},`, maxNodes)
	_, err := decodePipework("c.json", works(many+source, main25))
	require.ErrorContains(t, err, "nodes: 5003 items, 5000 at most")

	file := filepath.Join(t.TempDir(), "great.json")
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, f.Truncate(100<<20))
	require.NoError(t, f.Close())
	require.ErrorContains(t, Network([]string{file}, &bytes.Buffer{}), "longer than")
}

func TestLongPipelineIsSolved(t *testing.T) {
	nodes, links := []string{`{"id": "N0", "head_m": 50}`}, []string{}
	for i := 1; i < 3000; i++ {
		nodes = append(nodes, fmt.Sprintf(`{"id": "N%d", "elevation_m": 0, "demand_L_s": 0.001}`, i))
		links = append(links, fmt.Sprintf(`{"id": "L%d", "from": "N%d", "to": "N%d", "kind": "pipe", "length_m": 1, "diameter_m": 0.1, "roughness_m": 1e-5, "k": 0}`, i, i-1, i))
	}
	answer := ask(t, works(strings.Join(nodes, ","), strings.Join(links, ",")))
	require.Equal(t, "solved", answer.Status)
	require.InDelta(t, 2.999, answer.Links["L1"].FlowLS, 1e-9)
}

func FuzzPipework(f *testing.F) {
	f.Add(works(source, main25+","+nozzle+","+valve+`"kind": "reducer", "pressure_m": 9}`))
	f.Add(works(source, main25+","+nozzle+","+valve+`"kind": "regulator", "flow_L_s": 0.2}`))
	f.Add([]byte(`{"nodes": [{}], "links": [{"kind": "pipe"}, 3, NaN]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := decodePipework("c.json", text)
		if err != nil || len(c.Nodes) > 50 || len(c.Passages) > 100 {
			return
		}
		answer, err := c.solve()
		if err != nil {
			return
		}
		for id, v := range answer.Nodes {
			require.False(t, math.IsNaN(v.HeadM) || math.IsInf(v.HeadM, 0), id)
		}
		for id, v := range answer.Links {
			require.False(t, math.IsNaN(v.FlowLS) || math.IsInf(v.FlowLS, 0), id)
		}
	})
}
