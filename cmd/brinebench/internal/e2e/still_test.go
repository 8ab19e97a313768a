package e2e

import (
	"context"
	"net/http"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// heldBack serves the site, but the program only once release is closed.
func heldBack(t *testing.T, release <-chan struct{}) http.Handler {
	built := site(t)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/favicon.ico": // which a browser asks for where a bare file names none
			w.WriteHeader(http.StatusNoContent)
			return
		case program:
			select {
			case <-release:
			case <-r.Context().Done():
				return
			}
		}
		built.ServeHTTP(w, r)
	})
}

// stillShown tells whether the browser has painted the still picture, as it reports it
// by Element Timing.
const stillShown = `new Promise((tell) => {
	new PerformanceObserver((list) => { if (list.getEntries().some((e) => e.identifier === "still")) tell(true); }).observe({ type: "element", buffered: true });
})`

// TestStillStandsInUntilTheProgramDraws holds the program back: the picture is there
// without it, in the theme from the first, and gone when the program draws.
func TestStillStandsInUntilTheProgramDraws(t *testing.T) {
	for _, row := range []struct {
		name, address, system, chosen, file string
		size                                size
		drawn                               bool // the program comes in the end
	}{
		{"wide and light", "/", "light", "", "calls-wide-light.png", desk, true},
		{"wide, dark by choice", "/", "light", "dark", "calls-wide-dark.png", small, false},
		{"tall and light by choice", "/", "dark", "light", "calls-tall-light.png", phone, false},
		{"tall and dark", "/", "dark", "", "calls-tall-dark.png", phone, true},
		{"bench", "/bench.html", "dark", "", "bench-wide-dark.png", desk, false},
		{"sequence", "/sequence.html", "light", "", "sequence-tall-light.png", phone, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			release := make(chan struct{})
			x := openAt(t, heldBack(t, release), "/sizes.json", row.size)
			x.run("theme", emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: row.system}}),
				chromedp.Evaluate(`localStorage.setItem("brinebench-theme", "`+row.chosen+`")`, nil),
				chromedp.ActionFunc(func(ctx context.Context) error {
					_, err := page.AddScriptToEvaluateOnNewDocument(`addEventListener("DOMContentLoaded", () => { globalThis.themeAtFirst = document.documentElement.dataset.theme; })`).Do(ctx)
					return err
				}), chromedp.Navigate(eval[string](x, "location.origin")+row.address))
			x.run("the still", chromedp.Evaluate(stillShown, nil, awaitPromise))
			require.Contains(t, eval[string](x, "getComputedStyle(document.querySelector('#stage')).backgroundImage"), row.file)
			require.Regexp(t, eval[string](x, "themeAtFirst"), row.file, "no other theme flashes up before")
			require.Empty(t, eval[string](x, "document.documentElement.dataset.state ?? ''"))
			require.True(t, eval[bool](x, `(() => {
				const stage = document.querySelector("#stage").getBoundingClientRect(), bar = document.querySelector("#loading").getBoundingClientRect();
				return bar.height > 20 && bar.top >= stage.bottom - 1;
			})()`), "how far the program has come stands below the picture")
			x.screenshot("still-" + row.file[:len(row.file)-len(".png")])
			close(release)
			if row.drawn {
				x.waitPlayable()
				require.Equal(t, "none 1", eval[string](x, "(({ backgroundImage, opacity }) => backgroundImage + ' ' + opacity)(getComputedStyle(document.querySelector('#stage')))"))
			}
		})
	}
}

func TestPagesWithoutADrawingFetchNoStill(t *testing.T) {
	x := openAt(t, site(t), "/cards.html", desk)
	x.waitFor(startPatience, "the cards", "document.documentElement.dataset.state === 'ready'")
	require.Zero(t, eval[int](x, "performance.getEntriesByType('resource').filter((e) => e.name.endsWith('.png')).length"))
}
