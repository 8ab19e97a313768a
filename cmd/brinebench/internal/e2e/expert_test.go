package e2e

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// TestAnExpertIsWatched has an expert play the call, looks at one of the acts on the
// drawing, and comes back to one's own call, which stood meanwhile.
func TestAnExpertIsWatched(t *testing.T) {
	b := openCall(t, "a-dull-basin-at-the-station-house", desk)
	b.test("hardness-raw")
	own := b.text("#time-used")
	b.show("log")
	b.press(`[data-act="demo"]`)
	b.waitFor(judgePatience, "the expert", "document.querySelectorAll('[data-reason]').length > 3")
	require.Contains(t, b.text(".reasons .would"), "What each would show:")
	for _, s := range []size{desk, small, phone} {
		b.resize(s)
		b.requireAccessible("an expert's call")
		b.screenshot("expert")
	}
	b.resize(desk)
	b.press(`[data-demo-at="2"]`)
	b.waitFor(eventPatience, "the third act", "document.querySelector('[data-reason=\"2\"][aria-current=step]')")
	b.requireAccessible("an act of an expert")
	b.screenshot("expert-act")
	b.keys(kb.Escape)
	b.wait("one's own call", "!document.querySelector('html').matches(':has([data-replay])')")
	require.Equal(t, own, b.text("#time-used"))
}

// TestAnExpertIsWatchedFromTheStart opens a call as an instructor's debrief links to it: the
// expert plays it without anything pressed.
func TestAnExpertIsWatchedFromTheStart(t *testing.T) {
	b := openCall(t, "the-water-bill-at-the-tannery&expert=1", desk)
	b.waitFor(judgePatience, "the expert", "document.querySelectorAll('[data-reason]').length > 3")
	require.True(t, b.holds("document.querySelector('#page').dataset.current === 'demo'"))
}
