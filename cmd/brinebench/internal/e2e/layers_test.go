package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/require"
)

func (b *tab) shows(layer string) bool {
	b.t.Helper()
	return eval[bool](b, fmt.Sprintf("document.querySelector('[data-layer=%q]').getAttribute('aria-pressed') === 'true'", layer))
}

// enlarged tells whether a lens is on the picture.
func (b *tab) enlarged() bool {
	b.t.Helper()
	return eval[bool](b, "brinebenchLens('pan', 0, 0)")
}

// swipe moves fingers in steps from their places to where they end.
func (b *tab) swipe(from, to [][2]float64) {
	b.t.Helper()
	const steps = 8
	at := func(k float64) (points []*input.TouchPoint) {
		for i := range from {
			points = append(points, &input.TouchPoint{ID: float64(i + 1), X: from[i][0] + k*(to[i][0]-from[i][0]), Y: from[i][1] + k*(to[i][1]-from[i][1])})
		}
		return points
	}
	b.run("fingers down", input.DispatchTouchEvent(input.TouchStart, at(0)))
	for i := 1; i <= steps; i++ {
		b.run("fingers move", input.DispatchTouchEvent(input.TouchMove, at(float64(i)/steps)))
	}
	b.run("fingers up", input.DispatchTouchEvent(input.TouchEnd, []*input.TouchPoint{}))
}

func TestKeySwitchesLayersAndFingersEnlarge(t *testing.T) {
	b := openPlayable(t, phone)
	require.True(t, b.shows("water") && b.shows("names"))
	require.False(t, b.shows("pressure") || b.shows("exchange"))
	b.press(`[data-layer="pressure"]`)
	b.wait("the pressures", `document.querySelector('[data-layer="pressure"]').getAttribute('aria-pressed') === 'true'`)
	require.False(t, b.shows("water"), "pressure takes its place")
	b.press(`[data-layer="exchange"]`)
	b.wait("the cells", `document.querySelector('[data-layer="exchange"]').getAttribute('aria-pressed') === 'true'`)
	b.screenshot("layers")
	// WCAG 2.2, success criterion 2.5.8: targets of at least 24 by 24 CSS px.
	require.True(t, eval[bool](b, `[...document.querySelectorAll("#layers button")].filter((e) => e.checkVisibility()).every((e) => {
		const r = e.getBoundingClientRect();
		return r.width >= 24 && r.height >= 24 && r.left >= 0 && r.right <= innerWidth;
	})`))

	at := b.reach("#stage canvas")
	require.False(t, b.enlarged())
	b.swipe([][2]float64{{at.X - 20, at.Y}, {at.X + 20, at.Y}}, [][2]float64{{at.X - 90, at.Y}, {at.X + 90, at.Y}})
	require.True(t, b.enlarged(), "two fingers enlarge the picture")
	require.Zero(t, eval[float64](b, "scrollY"), "and do not move the page")
	b.swipe([][2]float64{{at.X, at.Y + 60}}, [][2]float64{{at.X, at.Y - 60}})
	b.wait("the page to scroll by one finger", "scrollY > 20")
	b.wait("the page to rest", "globalThis.restsAt === scrollY || (globalThis.restsAt = scrollY, false)") // else the button runs from the finger
	b.press(`[data-zoom="whole"]`)
	b.wait("the whole picture", "!brinebenchLens('pan', 0, 0)")
	b.press(`[data-zoom="in"]`)
	b.wait("a larger picture", "brinebenchLens('pan', 0, 0)")
}
