//go:build !js && !arm64

package sim_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim"
)

func TestHelpLeadsFromTheAreaToTheCauseAndCosts(t *testing.T) {
	plain, helped := trainee{t, open(t, 5)}, trainee{t, open(t, 5)}
	for i, want := range []string{
		"the way of the brine", "Brine is not drawn", "The reading that tells most in ", "Injector nozzle",
	} {
		e := helped.do(sim.Action{Kind: sim.ActHint, ID: helped.s.Setup().Help[i].ID})
		require.Contains(t, e.Text, want)
	}
	require.Equal(t, 4, helped.s.Call().Helped)
	data, err := scenarios.FS.ReadFile(mill)
	require.NoError(t, err)
	score := func(p trainee) float64 {
		p.expert()
		return p.assess(data, 5).Score
	}
	cost := 0.0
	for _, h := range plain.s.Setup().Help {
		cost += h.Points
	}
	require.InDelta(t, score(plain)-cost, score(helped), 1e-6)
}
