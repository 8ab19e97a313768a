package say

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAWarningIsSplitFromItsSafetyWord(t *testing.T) {
	for _, x := range []struct {
		lang             Lang
		said, word, rest string
	}{
		{English, "WARNING: Relieve the pressure.", "WARNING", "Relieve the pressure."},
		{English, "NOTICE – local code: ask.", "NOTICE", "local code: ask."},
		{English, "Lift with: two.", "CAUTION", "Lift with: two."},
		{Spanish, "ADVERTENCIA: Quite la presión.", "ADVERTENCIA", "Quite la presión."},
		{Spanish, "Levante entre dos.", "PRECAUCIÓN", "Levante entre dos."},
	} {
		speak(t, x.lang)
		word, rest := SafetyWord(x.said)
		require.Equal(t, []string{x.word, x.rest}, []string{word, rest})
	}
}

func TestTextsOfTheEngineAreSaidInTheirOrder(t *testing.T) {
	require.Empty(t, SimAll(nil))
	speak(t, Spanish)
	require.Equal(t, []string{Sim("Drain line"), Sim("Bypass")}, SimAll([]string{"Drain line", "Bypass"}))
}
