package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// atFocus is script that tells where the focus is seen from an element: "here",
// "before" or "after" it, or what is wrong with the focus for a person who looks
// for it on the screen. Nothing has the focus while a page is fresh.
const atFocus = `((selector, fresh) => {
	const wanted = document.querySelector(selector), e = document.activeElement;
	if (!wanted) return "there is no " + selector;
	if (e === document.body || !e) return fresh ? "before" : "the focus is lost";
	const words = e.outerHTML.slice(0, 90), look = getComputedStyle(e), r = e.getBoundingClientRect();
	if (!e.matches(":focus-visible") || look.outlineStyle === "none" || parseFloat(look.outlineWidth) < 2) return "no outline: " + words;
	const left = Math.max(r.left, 0), right = Math.min(r.right, innerWidth), top = Math.max(r.top, 0), bottom = Math.min(r.bottom, innerHeight);
	if (left >= right || top >= bottom) return "off the screen: " + words;
	const seen = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
	if (![e, ...(e.labels ?? [])].some((part) => part.contains(seen))) return "covered by " + seen.outerHTML.slice(0, 90) + ": " + words;
	if (e === wanted) return "here";
	return e.compareDocumentPosition(wanted) & Node.DOCUMENT_POSITION_FOLLOWING ? "before" : "after";
})`

// tabTo goes to an element with Tab, or Shift and Tab where it lies behind. At every
// stop on the way the focus has to be seen. It is fresh until the first key.
func (b *tab) tabTo(selector string, fresh bool) {
	b.t.Helper()
	const most = 150
	for stops := 0; ; stops++ {
		at := eval[string](b, fmt.Sprintf("%s(%q, %v)", atFocus, selector, fresh && stops == 0))
		switch at {
		case "here":
			return
		case "before":
			b.keys(kb.Tab)
		case "after":
			b.strike(kb.Tab, input.ModifierShift)
		default:
			b.screenshot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
			require.FailNow(b.t, at, "on the way to %s", selector)
		}
		require.Less(b.t, stops, most, "on the way to %s", selector)
	}
}

// enter goes to a control by Tab and presses Enter on it.
func (b *tab) enter(selector string) {
	b.t.Helper()
	b.tabTo(selector, false)
	b.keys(kb.Enter)
}

// enterAct does an act by keyboard in a section and waits for its end.
func (b *tab) enterAct(section string, keys func()) {
	b.t.Helper()
	if button := fmt.Sprintf("[data-show=%q]", section); b.count(button+"[aria-current=true]") == 0 {
		b.enter(button)
	}
	entries := b.count("#log li")
	keys()
	b.waitFor(eventPatience, "the end of an act",
		fmt.Sprintf("document.querySelectorAll('#log li').length > %d && !document.querySelector('main').hasAttribute('data-busy')", entries))
}

// testByKeyboard finds a test by typing and makes it.
func (b *tab) testByKeyboard(words, instrument string) {
	b.t.Helper()
	b.enterAct("tests", func() {
		b.tabTo("#tests-search", false)
		b.keys(words + kb.Enter)
		b.tabTo(fmt.Sprintf("#tests [data-test=%q]", instrument), false)
		b.keys(kb.Enter)
	})
	require.Equal(b.t, 1, b.count(fmt.Sprintf("#readings tbody tr[data-instrument=%q]", instrument)), b.text("#work"))
}

// intoWork goes from a fresh page past its head to the panels.
func (b *tab) intoWork() {
	b.t.Helper()
	b.tabTo(".skip", true)
	b.keys(kb.Enter)
}

// TestFocusIsSeenOnTheSmallestPages goes to the foot of the page and back, on a small phone
// and on a desktop page at four times its size: nothing that stays in its place hides what
// has the focus (WCAG 2.2, 1.4.10 and 2.4.11).
func TestFocusIsSeenOnTheSmallestPages(t *testing.T) {
	for _, s := range []size{{width: 320, height: 640, phone: true}, {width: 320, height: 256}} {
		t.Run(fmt.Sprint(s.height), func(t *testing.T) {
			b := openPlayable(t, s)
			b.intoWork()
			for _, section := range []string{"tests", "cause"} {
				b.enter(fmt.Sprintf("[data-show=%q]", section))
				b.screenshot("small-" + section)
				b.tabTo("#cautions-open", false)
				b.tabTo("[data-speak=en]", false)
			}
		})
	}
}

// TestCallByKeyboardAlone plays the call of the clock that is hours fast, without a
// pointer, and leaves it in the middle.
func TestCallByKeyboardAlone(t *testing.T) {
	b := openCall(t, "scum-in-the-bath-at-the-lock", desk)
	b.intoWork()
	b.enter(`[data-pace="0"]`)
	b.enterAct("call", func() { b.enter("#interview [data-test-at=ask-since]") })
	b.testByKeyboard("hardness house tap", "hardness-house")
	b.enterAct("log", func() {
		b.tabTo("#suspect", false)
		b.choose("#suspect", "clock-wrong", "c")
		b.tabTo("#expected", false)
		b.keys("hours away from my watch" + kb.Enter)
	})
	b.testByKeyboard("clock against a watch", "clock-read")
	b.enterAct("log", func() { b.enter("[data-of-line='0'][data-conclude=for]") })
	b.screenshot("keyboard")

	b.tabTo("#expected", false)
	b.keys("begun and not written down")
	before := b.heldStill()
	require.Equal(t, "begun and not written down", before["expected"])
	b.reload()
	require.Equal(t, before, b.heldStill())
	b.intoWork()
	b.enter(`[data-act="kept-close"]`)

	b.enterAct("cause", func() {
		b.tabTo("#cause-search", false)
		b.keys("clock set wrong" + kb.Enter)
		b.tabTo("input[name=fault][value=clock-wrong]", false)
		b.keys(" ")
		b.tabTo("#confidence", false)
		for range 8 { // from 50 by fives
			b.keys(kb.ArrowRight)
		}
		b.enter(`[data-act="diagnose"]`)
	})
	require.Contains(t, b.text("#named"), "90")
	b.enterAct("parts", func() {
		b.enter("#parts [data-part=controller]")
		b.enter(`#part [data-act="part-set"]`)
	})
	b.enterAct("cause", func() { b.enter("[data-tell=cause]") })
	b.enter(`[data-act="finish"]`)
	b.keys(kb.Escape)
	require.Zero(t, b.count(`[data-act="finish-yes"]`), "not yet")
	b.enter(`[data-act="finish"]`)
	b.enter(`[data-act="finish-yes"]`)
	require.Greater(t, b.judged(), 40.0)
	require.Zero(t, b.count("#log li[data-unsafe]"))

	b.tabTo("#takeaway", false)
	b.keys("Read the clock before the bed.")
	b.screenshot("keyboard-debrief")
}
