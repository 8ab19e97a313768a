package e2e

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// chartPause is longer than the charts take to follow.
const chartPause = time.Second

// reload loads the page again, as a person does, and waits until it can be used.
func (b *tab) reload() {
	b.t.Helper()
	b.run("loading the page again", chromedp.Reload())
	b.waitPlayable()
}

// held is what the page shows of a call that must not be lost.
func (b *tab) held() map[string]string {
	b.t.Helper()
	return eval[map[string]string](b, `({
		log: document.querySelector("#log").textContent,
		readings: document.querySelector("#readings").textContent,
		used: document.querySelector("#time-used").textContent,
		clock: document.querySelector("#time-clock").textContent,
		station: document.querySelector("#time-station").textContent,
		opened: [...document.querySelectorAll("[data-opened]")].map((e) => e.dataset.part).join(),
		cause: [...document.querySelectorAll("input[name=fault]:checked")].map((e) => e.value).join(),
		confidence: document.querySelector("#confidence").value,
		suspect: document.querySelector("#suspect").value,
		expected: document.querySelector("#expected").value,
		order: document.querySelector("#order-lines").textContent,
		answers: [...document.querySelectorAll("[data-answer]")].map((e) => e.textContent).join(),
		help: document.querySelector("#help").textContent,
		told: [...document.querySelectorAll("[data-tell][aria-pressed=true]")].map((e) => e.dataset.tell).join(),
		named: document.querySelector("#named").textContent,
		part: document.querySelector("#part").textContent,
		charts: [...document.querySelectorAll("#charts .line")].map((e) => e.getAttribute("d")).join(),
		section: document.querySelector("main").dataset.current,
	})`)
}

// requireHeldOverReload loads the page again and asks that all is as it was, with
// that part open.
func (b *tab) requireHeldOverReload(opened string) {
	b.t.Helper()
	b.press(`[data-pace="0"]`)
	before := b.heldStill()
	require.Contains(b.t, before["opened"], opened)
	b.reload()
	b.wait("the line that tells it", "document.querySelector('[data-kept=back]')")
	require.Equal(b.t, before, b.heldStill())
	b.press(`[data-act="kept-close"]`)
}

// heldStill is held once the charts have followed.
func (b *tab) heldStill() map[string]string {
	b.t.Helper()
	b.run("a frame", chromedp.Sleep(chartPause))
	return b.held()
}

// scrubTo moves the slider of the debrief with a key and waits for the moment
// that its line then tells.
func (b *tab) scrubTo(key, words string) {
	b.t.Helper()
	b.run("the slider", chromedp.Focus("#replay-at"))
	b.keys(key)
	b.wait("the moment", `/^`+words+`/.test(document.querySelector("#replay-line").textContent)`)
}

// TestCallIsTakenUpAfterAReload leaves a call half played, comes back to it,
// finishes it, and looks at it again.
func TestCallIsTakenUpAfterAReload(t *testing.T) {
	b := openPlayable(t, desk)
	b.press(`[data-pace="0"]`)
	b.measure("hardness-house")
	b.control("start-regeneration")
	b.control("bypass-bypass")
	b.control("unplug")
	b.work("injector-screen", "open")
	b.show("cause")
	b.unfold("input[name=fault][value=nozzle-plugged]")
	b.press("input[name=fault][value=nozzle-plugged]")
	b.slide("#confidence", 60)
	before := b.heldStill()

	b.reload()
	b.wait("the line that tells it", "document.querySelector('[data-kept=back]')")
	require.Equal(t, before, b.heldStill())
	b.screenshot("brought-back")

	b.act("cause", `[data-act="diagnose"]`)
	b.work("injector-screen", "refit")
	b.finish()
	report, hash := b.text("#debrief"), eval[string](b, "document.querySelector('main').dataset.hash")
	require.NotEmpty(t, hash)

	b.reload()
	require.Equal(t, "ready", eval[string](b, "document.querySelector('main').dataset.debrief"), "judged once")
	require.Equal(t, report, b.text("#debrief"))

	b.scrubTo(kb.Home, "Replay: minute 0.0 of")
	b.screenshot("scrubbed")
	b.scrubTo(kb.PageUp, "Replay: minute [1-9]")
	b.press(`.replay [data-act="replay-after"]`)
	b.keys(kb.Escape)
	b.wait("the end", "document.querySelector('#replay').hidden")
	require.Equal(t, hash, eval[string](b, "document.querySelector('main').dataset.hash"))
	require.Equal(t, report, b.text("#debrief"))
}

// TestCallsGoesBackToTheCallThatWasLeft asks for two tests at once, looks in at another
// place, and comes back by the header.
func TestCallsGoesBackToTheCallThatWasLeft(t *testing.T) {
	b := openCall(t, "scum-in-the-bath-at-the-lock", desk)
	b.ask("ask-people")
	b.show("tests")
	b.press(`[data-test="hardness-house"]`)
	b.press(`[data-test="hardness-raw"]`)
	require.Contains(t, b.text("#busy-text"), "then: Hardness, raw water")
	b.wait("both readings", "document.querySelectorAll('#readings tbody tr').length === 3")
	require.Equal(t, "hardness-raw", eval[string](b, "document.querySelector('#readings tbody tr').dataset.instrument"))

	b.press(".places a[data-say=place-sizing]")
	b.wait("another place", "document.documentElement?.dataset.place === 'sizing' && globalThis.brinebenchReady === true") // or what is pressed moves under the pointer
	b.press(".places a[data-say=place-calls]")
	b.wait("the page of calls", "document.documentElement?.dataset.place === 'calls'")
	b.waitPlayable()
	require.Equal(t, "Scum in the bath at the lock", b.text("#title"))
	require.Equal(t, "?call=scum-in-the-bath-at-the-lock", eval[string](b, "location.search"))
	require.Equal(t, 3, b.count("#readings tbody tr"))
}
