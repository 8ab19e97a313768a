package e2e

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// openSequence opens the page on which a valve's cycle is practised.
func openSequence(t *testing.T, s size) *tab {
	t.Helper()
	b := openAt(t, site(t), "/sequence.html?lang=en", s)
	b.waitPlayable()
	return b
}

// exercise takes up the first exercise of a kind. On a phone the kinds are folded away.
func (b *tab) exercise(kind string) {
	b.t.Helper()
	if b.count(".kinds:not([open])") == 1 {
		b.press(".kinds summary")
	}
	b.press(fmt.Sprintf("[data-kind=%q]", kind))
	b.wait("an exercise of "+kind, fmt.Sprintf("document.querySelector('[data-kind=%q]').getAttribute('aria-pressed') === 'true'", kind))
	require.Zero(b.t, b.count("#answer *"))
}

// untilAsked takes up an exercise of a kind whose heading or chart has some words, whatever the
// lot has drawn.
func (b *tab) untilAsked(kind, words string) {
	b.t.Helper()
	for range 40 {
		b.exercise(kind)
		if strings.Contains(b.text("#question-h")+" "+b.chart(), words) {
			return
		}
		if b.count("#question [data-stop]") > 0 {
			b.press("#question [data-stop]")
		} else {
			b.press("[data-cycle=check]")
			b.press("[data-cycle=check]") // meant so
		}
		b.graded()
	}
	require.FailNow(b.t, "it does not come", words)
}

// chart is what the chart of a drum says to those who do not see it.
func (b *tab) chart() string {
	return eval[string](b, "document.querySelector('#question svg')?.getAttribute('aria-label') ?? ''")
}

// heldOpen are the positions of the plain unit, by their open seats.
var heldOpen = map[string]struct {
	stop  string
	seats []int
}{
	"inlet, outlet":              {"service", []int{0, 1}},
	"pass, upflow, backwash":     {"backwash", []int{2, 3, 4}},
	"pass, rinse, motive, brine": {"brine", []int{2, 5, 6, 7}},
	"inlet, pass, rinse":         {"fast-rinse", []int{0, 2, 5}},
	"inlet, outlet, brine":       {"refill", []int{0, 1, 7}},
}

// graded waits for the answer and returns its score, 0..100.
func (b *tab) graded() float64 {
	b.t.Helper()
	b.wait("the answer", "document.querySelector('#answer [data-right]')")
	return eval[float64](b, "Number(document.querySelector('#answer [data-right]').dataset.right)")
}

// TestSequenceIsPractised answers one exercise of each kind: some right, some wrong.
func TestSequenceIsPractised(t *testing.T) {
	b := openSequence(t, desk)
	b.exercise("name")
	b.press("[data-stop=service]")
	require.Zero(t, b.graded())
	require.Equal(t, 1, b.count("[data-stop=service][data-missed]"), "the one that was named")
	require.Equal(t, 1, b.count("[data-stop=backwash][data-right]"), "what a first record draws")
	require.Contains(t, b.text("#answer"), "Water lifts the bed")
	require.Contains(t, b.text("#answer"), "upflow seat → riser tube → resin bed", "how it is to be seen")
	require.True(t, eval[bool](b, "document.activeElement.matches('#answer h3')"), "the buttons are of no more use")
	require.Contains(t, b.text("#live"), "Water lifts the bed")

	b.untilAsked("seats", "Service")
	b.press("[data-cycle=check]")
	b.wait("a question back", "/No seat is open/.test(document.querySelector('#answer').textContent)")
	b.press("[data-seat='0']")
	require.Empty(t, b.text("#answer"), "something was set")
	b.press("[data-seat='0']")
	b.press("[data-cycle=check]")
	b.press("[data-cycle=check]") // meant so
	require.Zero(t, b.graded())
	require.Contains(t, b.text("#answer"), "You opened none: no water flows anywhere.")
	require.Contains(t, b.text("#answer"), "no water", "no hardness of what does not flow")

	b.untilAsked("seats", "Refill")
	b.press("[data-seat='0']")
	b.press("[data-seat='1']")
	b.press("[data-seat='2']") // the pass seat too
	b.press("[data-cycle=check]")
	require.Zero(t, b.graded())
	require.Equal(t, 1, b.count("[data-finding=hard-to-house]"))
	require.Contains(t, b.text("#answer"), "You opened:")
	b.press("[data-layer=pressure]")
	b.wait("the pressures", "document.querySelector('[data-layer=pressure]').ariaPressed === 'true'")
	b.press("[data-layer=water]")
	b.screenshot("sequence-seats")

	b.untilAsked("path", "Service")
	for _, p := range []int{8, 9, 0, 14, 15, 1, 10, 12} { // by plant.Path: service, to the taps
		b.press(fmt.Sprintf("[data-passage='%d']", p))
	}
	b.press("[data-cycle=check]")
	require.Equal(t, 100.0, b.graded())

	b.untilAsked("lobes", "Open at the line: inlet, outlet.")
	b.press("[data-stop=service]")
	require.Equal(t, 100.0, b.graded())

	b.exercise("drum")
	asked := b.text("#question h3")
	for i, mark := range regexp.MustCompile(`([A-Z]): ([a-z, ]+) open\.`).FindAllStringSubmatch(b.chart(), -1) {
		held := heldOpen[mark[2]]
		b.pick(fmt.Sprintf("[data-mark='%d']", i), held.stop)
		if strings.HasSuffix(asked, " "+mark[1]) {
			for _, seat := range held.seats {
				b.press(fmt.Sprintf("[data-seat='%d']", seat))
			}
		}
	}
	b.press("[data-cycle=check]")
	require.Equal(t, 100.0, b.graded())

	b.exercise("whole")
	for range 3 {
		b.press("[data-cycle=add]")
	}
	b.press("[data-cycle=check]")
	b.wait("which positions", "/each line one that is chosen/.test(document.querySelector('#answer').textContent)")
	for i, stop := range []string{"backwash", "brine", "fast-rinse", "refill"} {
		b.pick(fmt.Sprintf("[data-step='%d'][data-of=stop]", i), stop)
	}
	b.press("[data-cycle=check]")
	require.Less(t, b.graded(), 100.0, "ten minutes of brine and rinse are too short")
	require.Equal(t, 1, b.count("[data-outcome=regained]"))
	for _, s := range []size{desk, small, phone} {
		b.resize(s)
		b.requireAccessible(fmt.Sprintf("sequence at %v", s))
		b.screenshot("sequence-whole")
	}

	b.press("[data-speak=es]")
	b.wait("Spanish", "document.documentElement.lang === 'es'")
	require.Equal(t, "Brinebench: Secuencia", eval[string](b, "document.title"))
	require.Contains(t, b.text("#answer"), "Capacidad recuperada")
	kept := eval[string](b, "localStorage['brinebench.sequence']")
	require.Contains(t, kept, "cycle-path-standard-service-house")
	require.NotContains(t, kept, "cycle-whole-brine-first")

	b.pick("#bench", "brine-first")
	b.exercise("whole")
	b.pick("[data-step='0']", "brine")
	eval[bool](b, `document.querySelector("[data-cycle=check]").click(), document.querySelector("[data-kind=lobes]").click(), true`)
	b.wait("the program's answer, though it was left", "document.querySelector('#run details [data-outcome]')")
	require.Zero(t, b.count("#answer *"), "the exercise taken up meanwhile is still open")
	require.Contains(t, eval[string](b, "localStorage['brinebench.sequence']"), "cycle-whole-brine-first")
	b.screenshot("sequence-kept")
	b.press("[data-cycle=run-close]")
	require.False(t, eval[bool](b, "document.querySelector('#run').checkVisibility()"))
}

// pick chooses from a list as a person does with the keys.
func (b *tab) pick(list, value string) {
	b.t.Helper()
	b.run("choosing", chromedp.SetValue(list, value, chromedp.ByQuery))
	eval[bool](b, fmt.Sprintf("document.querySelector(%q).dispatchEvent(new Event('change', {bubbles: true}))", list))
}

// TestSequenceIsPractisedAgainstTheClock answers what comes within a few seconds, and stops.
func TestSequenceIsPractisedAgainstTheClock(t *testing.T) {
	b := openSequence(t, small)
	b.exercise("name")
	b.press("[data-cycle=race]")
	b.wait("the clock", "/^1\\d\\d s left, 0 right/.test(document.querySelector('#race-left')?.textContent)")
	b.press("[data-stop=service]")
	right := 0
	if b.graded() == 100 {
		right++
	}
	b.wait("the count", fmt.Sprintf("document.querySelector('#race-left').textContent.includes(', %d right')", right))
	b.press("[data-cycle=next]")
	b.press("[data-cycle=race-stop]")
	b.wait("the end", fmt.Sprintf("document.activeElement.matches('.raced') && document.activeElement.textContent.includes('Stopped: %d right of 1')", right))
	require.Contains(t, b.text("#live"), "Stopped:", "said, too")
	require.Zero(t, b.count("#race-left"))
}
