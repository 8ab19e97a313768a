package e2e

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

func TestPageLoadsAndDraws(t *testing.T) {
	for _, s := range []size{desk, small, phone} {
		b := openPlayable(fullBeat{t}, s)
		require.False(t, eval[bool](b, "document.documentElement.dataset.state === 'failed'"))
		require.Positive(t, b.count("#stage canvas"), "the picture is inside its stage")
		require.False(t, eval[bool](b, "document.documentElement.scrollWidth > innerWidth"),
			"nothing sticks out sideways at %d px", s.width)
		b.screenshot("start")
	}
}

// recorded returns a response of handler with its body, without compression.
func recorded(handler http.Handler, r *http.Request) *httptest.ResponseRecorder {
	plain := r.Clone(r.Context())
	plain.Header.Del("Accept-Encoding")
	recorder := httptest.NewRecorder()
	handler.ServeHTTP(recorder, plain)
	return recorder
}

// requireMessage waits for the message that takes the place of the picture and
// holds it to what a person can use: visible, short, in plain words.
func requireMessage(b *tab, words string) {
	b.t.Helper()
	b.waitFor(startPatience, "a message", "document.documentElement.dataset.state === 'failed'")
	b.wait("the message to show", "document.querySelector('#failure').getBoundingClientRect().height > 0")
	title, text := b.text("#failure-title"), b.text("#failure-text")
	require.NotEmpty(b.t, title)
	require.Regexp(b.t, words, title+" "+text)
	require.NotRegexp(b.t, `goroutine|panic|\.go:|undefined|\[object`, title+" "+text, "plain words")
	require.Less(b.t, len(text), 300)
	require.True(b.t, eval[bool](b, "document.querySelector('#loading').hidden"), "nothing seems to be loading still")
	b.takeFaults() // the program may say on the console what it died of
}

// Without WebGL there is no picture, but the call can be worked all the same.
func TestPageWorksWithoutGraphics(t *testing.T) {
	b := open(t, site(t), desk, noGraphics...)
	b.waitFor(startPatience, "panels filled", "globalThis.brinebenchReady")
	require.Regexp(t, "WebGL|graphics", b.text("#stage-box"))
	require.InDelta(t, 16, b.measure("hardness-raw"), 2)
	b.screenshot("no-graphics")
	b.takeFaults() // Chromium itself complains of the missing graphics
}

// TestSoundIsOffUntilItIsAskedFor listens to what the page would play: silence, then
// the motor and the drain of a regeneration.
func TestSoundIsOffUntilItIsAskedFor(t *testing.T) {
	b := openPlayable(t, desk)
	pressed := func() string {
		return eval[string](b, "document.querySelector('[data-sound]').getAttribute('aria-pressed')")
	}
	b.run("listening", chromedp.Evaluate(`
		globalThis.heard = [0, 0, 0]; globalThis.contexts = 0;
		const play = brinebenchSound, Context = AudioContext;
		globalThis.AudioContext = class extends Context { constructor() { super(); contexts++; } };
		globalThis.brinebenchSound = (...levels) => { heard = heard.map((h, i) => Math.max(h, levels[i])); play(...levels); };`, nil))
	require.Equal(t, "false", pressed())
	b.control("start-regeneration")
	b.wait("the motor", "heard[0] === 1")
	require.Zero(t, eval[int](b, "contexts"), "nothing sounds before it is asked for")
	b.press("[data-sound]")
	require.Equal(t, "true", pressed())
	require.Equal(t, 1, eval[int](b, "contexts"))
	b.press("[data-sound]")
	require.Equal(t, "false", pressed())
}
