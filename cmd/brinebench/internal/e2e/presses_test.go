package e2e

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// pressNext presses the first button that can be and has not been yet, and returns how
// many that makes; the same number again when there is none left.
const pressNext = `(() => {
	globalThis.pressed ??= new Set();
	const name = (e) => JSON.stringify([e.id, e.dataset, e.textContent]);
	const e = [...document.querySelectorAll("button, summary")].find((e) => e.checkVisibility() && !e.disabled && !pressed.has(name(e)));
	if (e) { pressed.add(name(e)); e.click(); }
	return pressed.size;
})()`

// TestNoButtonStopsAPage presses all that a page offers, and all that comes up by that.
func TestNoButtonStopsAPage(t *testing.T) {
	const most = 120
	for page, least := range map[string]int{"sequence": 20, "sizing": 15, "bench": 20, "cards": 8} {
		t.Run(page, func(t *testing.T) {
			b := openAt(fullBeat{t}, site(t), "/"+page+".html?lang=en", small)
			b.waitDesk()
			if page == "cards" { // they are printed whole only
				b.waitFor(startPatience, "what wears", "document.querySelector('main').dataset.wear === 'ready'")
			}
			n := 0
			for was := -1; n != was && n < most; time.Sleep(30 * time.Millisecond) {
				was, n = n, eval[int](b, pressNext)
				require.NotEqual(t, "failed", eval[string](b, "document.documentElement.dataset.state ?? ''"), "after %d: %s", n, b.text("#failure"))
			}
			require.Greater(t, n, least)
		})
	}
}
