package headless

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/hydraulic"
)

// The peer is EPANET 2.3.5 (Rossman et al., EPA/600/R-20/133, 2020) as built for
// node in the npm package epanet-js 0.9.0. Its gravity is 32.2 ft/s²; the factor
// of its minor losses, 8/(π²g), is the rounded 0.02517 s²/ft, which their
// coefficients here make up for.
const (
	peerG     = 32.2 * 0.3048
	peerMinor = 8 / (math.Pi * math.Pi * 32.2) / 0.02517
	peerLS    = 28.317 / 28.316846592    // its L/s, of rounded cubic feet
	peerNu    = 1.1e-5 * 0.3048 * 0.3048 // kinematic viscosity that its relative viscosity refers to, m²/s

	headM  = 1e-3 // what heads agree within, m
	flowLS = 5e-5 // and flows, L/s
)

type peerCase struct {
	Inp     string               `json:"inp"`
	Options []map[string]float64 `json:"options"` // tried in turn until one leads to a solution
}

type peerAnswer struct {
	Error   string
	Nodes   map[string]float64
	Links   map[string]float64
	Emitted map[string]float64
	Solved  bool
}

// installPeer puts the peer into build/peer through the ordinary npm client, at
// the version and of the content that the lock file names.
func installPeer(t *testing.T) string {
	t.Helper()
	if os.Getenv("BRINEBENCH_FULL") == "" {
		t.Skip("skipped: make test runs this, with node and npm")
	}
	dir := filepath.Join("..", "..", "..", "..", "build", "peer")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, name := range []string{"package.json", "package-lock.json", "solve.js"} {
		text, err := os.ReadFile(filepath.Join("testdata", "peer", name))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o644))
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "epanet-js", "package.json")); err != nil {
		npm := exec.Command("npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund")
		npm.Dir = dir
		out, err := npm.CombinedOutput()
		require.NoError(t, err, "npm: %s", out)
	}
	return dir
}

// askPeer solves all cases in one run of node.
func askPeer(t *testing.T, dir string, cases []peerCase) []peerAnswer {
	t.Helper()
	text, err := json.Marshal(cases)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "cases.json")
	require.NoError(t, os.WriteFile(file, text, 0o644))
	node := exec.Command("node", "solve.js", file)
	node.Dir = dir
	var complaints bytes.Buffer
	node.Stderr = &complaints
	out, err := node.Output()
	require.NoError(t, err, "node: %s", complaints.String())
	var said struct {
		Version int
		Answers []peerAnswer
	}
	require.NoError(t, json.Unmarshal(out, &said))
	require.Equal(t, 20305, said.Version)
	require.Len(t, said.Answers, len(cases))
	return said.Answers
}

// peerFriction is the peer's friction factor: Swamee & Jain from Re 4000 on,
// Hagen-Poiseuille below 2000, Dunlop's cubic between (its manual, 12.1).
func peerFriction(re, rough float64) float64 {
	switch {
	case re >= 4000:
		return math.Pow(-2*math.Log10(rough/3.7+5.74/math.Pow(re, 0.9)), -2)
	case re <= 2000:
		return 64 / re
	}
	y2 := rough/3.7 + 5.74/math.Pow(4000, 0.9)
	y3 := -2 * math.Log10(y2)
	fa := 1 / (y3 * y3)
	fb := (2 - 0.9*2*2/math.Ln10*5.74/math.Pow(4000, 0.9)/(-y2*-y3)) * fa
	r := re / 2000
	return 7*fa - fb + r*(0.128-17*fa+2.5*fb+r*(-0.128+13*fa-2*fb+r*(0.032-3*fa+0.5*fb)))
}

// peerLeak is what passes the peer's shut links, and its regulators besides their
// set flow, L/s per m: a conductance of 1e-8 ft³/s per foot keeps its equations
// regular. The peer's demands make up for it.
const peerLeak = 1e-8 / 0.3048 * 28.316846592

var peerOptions = []map[string]float64{
	{"Accuracy": 1e-8},
	{"Accuracy": 1e-8, "DampLimit": 0.1},
	{"Accuracy": 1e-8, "CheckFreq": 10, "MaxCheck": 1000, "DampLimit": 0.01},
	{"Accuracy": 1e-7, "CheckFreq": 3, "MaxCheck": 3, "DampLimit": 0.5},
	{"Accuracy": 1e-7, "CheckFreq": 25, "MaxCheck": 500},
}

// leaks returns what passes the peer's shut links into each node, L/s.
func leaks(c *pipework, ours *networkAnswer) []float64 {
	into := make([]float64, len(c.Nodes))
	for _, l := range c.Passages {
		if (l.Check || l.Kind == reducerKind) && ours.Links[l.ID].FlowLS < 1e-6 {
			leak := peerLeak * (ours.Nodes[c.Nodes[l.To].ID].HeadM - ours.Nodes[c.Nodes[l.From].ID].HeadM)
			into[l.From] += leak
			into[l.To] -= leak
		}
	}
	return into
}

// peerInput writes a case as the peer reads it. Links with losses of their own
// are pipes of a thousandth of a millimetre, orifices are emitters. stretch
// gives the part by which the length of each pipe changes; ours the heads at which
// regulators leak.
func peerInput(c *pipework, ours *networkAnswer, stretch func(l *passage) float64) peerCase {
	section := map[string]*strings.Builder{}
	line := func(name, format string, args ...any) {
		if section[name] == nil {
			section[name] = &strings.Builder{}
		}
		fmt.Fprintf(section[name], format+"\n", args...)
	}
	leak := leaks(c, ours)
	for i, v := range c.Nodes {
		if v.Fixed {
			line("RESERVOIRS", "%s %.12g", v.ID, v.HeadM)
		} else {
			line("JUNCTIONS", "%s %.12g %.12g", v.ID, v.ElevationM, (v.DemandLS+leak[i])*peerLS)
		}
	}
	for i := range c.Passages {
		l := &c.Passages[i]
		from, mm, k := c.Nodes[l.From].ID, 1000*l.DiameterM, l.K*peerMinor
		status := map[bool]string{false: "Open", true: "CV"}[l.Check]
		switch l.Kind {
		case pipeKind:
			line("PIPES", "%s %s %s %.12g %.12g %.12g %.12g %s", l.ID, from, c.Nodes[l.To].ID,
				l.LengthM*stretch(l), mm, math.Max(1000*l.RoughnessM, 1e-9), k, status)
		case minorKind:
			line("PIPES", "%s %s %s 1e-6 %.12g 1e-9 %.12g %s", l.ID, from, c.Nodes[l.To].ID, mm, k, status)
		case orificeKind:
			area := math.Pi / 4 * l.DiameterM * l.DiameterM
			line("EMITTERS", "%s %.12g", from, 1000*l.Cd*area*math.Sqrt(2*peerG)*peerLS)
		case regulatorKind:
			besides := peerLeak * (ours.Nodes[from].HeadM - ours.Nodes[c.Nodes[l.To].ID].HeadM)
			line("VALVES", "%s %s %s %.12g FCV %.12g %.12g", l.ID, from, c.Nodes[l.To].ID, mm, (l.FlowLS-besides)*peerLS, k)
		case reducerKind:
			line("VALVES", "%s %s %s %.12g PRV %.12g %.12g", l.ID, from, c.Nodes[l.To].ID, mm, l.PressureM, k)
		}
	}
	line("OPTIONS", "UNITS LPS\nHEADLOSS D-W\nVISCOSITY %.12g\nBACKFLOW ALLOWED NO\nTRIALS 500", c.MuPaS/c.RhoKgM3/peerNu)
	var text strings.Builder
	for _, name := range strings.Fields("JUNCTIONS RESERVOIRS PIPES VALVES EMITTERS OPTIONS") {
		if s := section[name]; s != nil {
			fmt.Fprintf(&text, "[%s]\n%s\n", name, s)
		}
	}
	return peerCase{Inp: text.String() + "[END]\n", Options: peerOptions}
}

// sameFriction stretches a pipe so that both formulas lose the same at a flow.
func sameFriction(c *pipework, flows map[string]flowShown) func(*passage) float64 {
	return func(l *passage) float64 {
		re := 4 * math.Abs(flows[l.ID].FlowLS) / 1000 * c.RhoKgM3 / (math.Pi * l.DiameterM * c.MuPaS)
		if re < 1 {
			return 1
		}
		rough := l.RoughnessM / l.DiameterM
		return hydraulic.Friction(re, rough) / peerFriction(re, rough)
	}
}

// orificeAt finds the orifice of a node with the demand beside it.
func orificeAt(c *pipework, answer *networkAnswer, id string) (flow float64, one bool) {
	count := 0
	for _, l := range c.Passages {
		if l.Kind == orificeKind && c.Nodes[l.From].ID == id {
			flow, count = answer.Links[l.ID].FlowLS, count+1
		}
	}
	return flow, count == 1
}

// settled lists the nodes whose head is more than the leak of shut valves.
func settled(c *pipework, answer *networkAnswer) []bool {
	open := pipework{Nodes: c.Nodes}
	for _, l := range c.Passages {
		oneWay := l.Check || l.Kind == reducerKind
		if l.Kind != orificeKind && (!oneWay || answer.Links[l.ID].FlowLS > 1e-5) {
			open.Passages = append(open.Passages, l)
		}
	}
	sure := make([]bool, len(c.Nodes))
	for i := range sure {
		sure[i] = true
	}
	for _, fault := range open.islands() {
		var i int
		_, _ = fmt.Sscanf(fault, "nodes[%d]", &i)
		sure[i] = false
	}
	return sure
}

// off is the greatest difference between us and the peer.
type off struct {
	headM, flowLS float64
	heads         int // compared
}

func (d off) with(o off) off {
	return off{max(d.headM, o.headM), max(d.flowLS, o.flowLS), d.heads + o.heads}
}

func compare(t *testing.T, c *pipework, ours *networkAnswer, theirs peerAnswer) off {
	t.Helper()
	var d off
	sure, leak := settled(c, ours), leaks(c, ours)
	for i, v := range c.Nodes {
		if sure[i] {
			d.heads++
			d.headM = max(d.headM, math.Abs(ours.Nodes[v.ID].HeadM-theirs.Nodes[v.ID]))
		}
		if flow, one := orificeAt(c, ours, v.ID); one {
			d.flowLS = max(d.flowLS, math.Abs(flow+v.DemandLS-(theirs.Emitted[v.ID]/peerLS-leak[i])))
		}
	}
	for _, l := range c.Passages {
		if l.Kind != orificeKind {
			d.flowLS = max(d.flowLS, math.Abs(ours.Links[l.ID].FlowLS-theirs.Links[l.ID]/peerLS))
		}
	}
	require.False(t, math.IsNaN(d.headM+d.flowLS))
	return d
}

// ask runs the command on a case.
func ask(t *testing.T, text []byte) networkAnswer {
	t.Helper()
	file := filepath.Join(t.TempDir(), "case.json")
	require.NoError(t, os.WriteFile(file, text, 0o644))
	var out bytes.Buffer
	require.NoError(t, Network([]string{file}, &out), "%s", text)
	var answer networkAnswer
	require.NoError(t, json.Unmarshal(out.Bytes(), &answer))
	return answer
}

// The shared case and random ones. The peer's pipes have the lengths at which
// its friction formula, an approximation of Colebrook's within 3.5 % (Swamee &
// Jain, 1976), and its bridge over the transition lose the same as ours at our
// flows; the peer must then find the same flows. How far it is off with the
// lengths as they are is told too.
func TestNetworksAgreeWithTheGeneralPurposeEngine(t *testing.T) {
	dir := installPeer(t)
	shared, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "reference", "network", "parallel.json"))
	require.NoError(t, err)
	texts := [][]byte{bytes.Replace(shared, []byte("9.80665"), []byte("9.81456"), 1)}
	for seed := range 40 {
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		texts = append(texts, randomPipework(r))
	}
	var works []*pipework
	var answers []networkAnswer
	var matched, plain []peerCase
	for i, text := range texts {
		c, err := decodePipework(fmt.Sprint("case ", i), text)
		require.NoError(t, err)
		ours := ask(t, text)
		require.Equal(t, "solved", ours.Status)
		works, answers = append(works, c), append(answers, ours)
		matched = append(matched, peerInput(c, &ours, sameFriction(c, ours.Links)))
		plain = append(plain, peerInput(c, &ours, func(*passage) float64 { return 1 }))
	}
	var worst, worstPlain off
	links := 0
	met := map[kind]int{}
	theirs, theirsPlain := askPeer(t, dir, matched), askPeer(t, dir, plain)
	for i, c := range works {
		name := fmt.Sprintf("case %d\n%s", i, matched[i].Inp)
		require.Empty(t, theirs[i].Error, name)
		require.True(t, theirs[i].Solved, "the peer found no solution: %s", name)
		d := compare(t, c, &answers[i], theirs[i])
		if !(d.headM <= headM && d.flowLS <= flowLS) {
			t.Errorf("%s\nheads differ by %.2g m, flows by %.2g L/s\nours %v\ntheirs %v", name, d.headM, d.flowLS, answers[i], theirs[i])
		}
		p := compare(t, c, &answers[i], theirsPlain[i])
		worst = worst.with(d)
		worstPlain = worstPlain.with(p)
		links += len(c.Passages)
		for _, l := range c.Passages {
			met[l.Kind]++
		}
	}
	for _, k := range []kind{pipeKind, minorKind, orificeKind, regulatorKind, reducerKind} {
		require.Greater(t, met[k], 5, "%s", k)
	}
	t.Logf("%d networks, %d links %v: %d heads within %.2g m, flows within %.2g L/s; with the peer's own friction %.2g m, %.2g L/s",
		len(works), links, met, worst.heads, worst.headM, worst.flowLS, worstPlain.headM, worstPlain.flowLS)
}

// Swamee & Jain state 1 % for Re 5e3 to 1e8; at Re 4000 and in smooth pipes it
// is 3.2 %, as the table of Colebrook's factors has it.
func TestPeersFrictionIsNearColebrooks(t *testing.T) {
	worst := map[string]float64{}
	for re := 100.0; re < 1e8; re *= 1.01 {
		for _, rough := range []float64{0, 1e-5, 1e-4, 1e-3, 1e-2} {
			d := math.Abs(peerFriction(re, rough)/hydraulic.Friction(re, rough) - 1)
			switch {
			case re <= 2000:
				require.Less(t, d, 1e-12, "Re %g", re)
			case re < 4000:
				worst["transition"] = max(worst["transition"], d)
			default:
				worst["turbulent"] = max(worst["turbulent"], d)
			}
		}
	}
	require.Less(t, worst["turbulent"], 0.035)
	require.Less(t, worst["transition"], 0.14) // two cubics: ours of the loss, the peer's of the factor
	t.Logf("the peer's friction factor differs by %v", worst)
}
