package e2e

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// speak presses the switch of a language.
func (b *tab) speak(lang string) {
	b.t.Helper()
	b.press(fmt.Sprintf("[data-speak=%s]", lang))
	b.wait("the language", fmt.Sprintf("document.documentElement.lang === %q", lang))
}

// TestLanguageIsSwitchedAtOnce changes the language in the middle of a call: the
// words change, and nothing else does.
func TestLanguageIsSwitchedAtOnce(t *testing.T) {
	for _, s := range []size{desk, phone} {
		t.Run(fmt.Sprint(s.width), func(t *testing.T) {
			b := openPlayable(t, s)
			require.Equal(t, "en", eval[string](b, "document.documentElement.lang"), "the browser asks for English")
			b.press(`[data-pace="0"]`)
			b.measure("hardness-raw")
			b.show("cause")
			b.unfold("input[name=fault][value=nozzle-plugged]")
			b.press("input[name=fault][value=nozzle-plugged]")
			b.slide("#confidence", 60)
			words := func() string {
				return eval[string](b, "document.querySelector('#tests').textContent + document.querySelector('#cause').textContent")
			}
			held, english := b.heldStill(), words()

			b.speak("es")
			require.Equal(t, "Agua dura en la casa del molino", b.text("#call-h"))
			require.Contains(t, b.text("#readings"), "Dureza, agua cruda")
			require.Equal(t, "Boquilla del inyector tapada", b.text("#chosen"))
			require.Equal(t, "60\u00a0%, probable", b.text("#confidence-words"))
			require.Equal(t, 1, b.shown("input[name=fault][value=nozzle-plugged]"), "its fold is open still")
			for _, section := range []string{"call", "unit", "tests", "parts", "log", "practice", "cause"} {
				b.show(section)
				b.requireNothingCut()
				b.screenshot("es-" + section)
			}

			b.speak("en")
			require.Equal(t, english, words())
			require.Equal(t, held, b.heldStill())

			b.speak("es")
			b.reload()
			require.Equal(t, "es", eval[string](b, "document.documentElement.lang"), "kept in the browser")
			require.Contains(t, b.text("#kept"), "Su visita está de vuelta")
		})
	}
}
