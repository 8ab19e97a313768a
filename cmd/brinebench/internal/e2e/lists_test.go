package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// shown counts the elements of a selector that a person can see.
func (b *tab) shown(selector string) int {
	b.t.Helper()
	return eval[int](b, fmt.Sprintf("[...document.querySelectorAll(%q)].filter((e) => e.checkVisibility()).length", selector))
}

// requireNothingCut asks that no button of the current section loses part of its
// words, and that the page does not stick out sideways.
func (b *tab) requireNothingCut() {
	b.t.Helper()
	require.Empty(b.t, eval[[]string](b,
		"[...document.querySelectorAll('.sec.current :is(button, summary, label)')].filter((e) => e.checkVisibility() && e.scrollWidth > e.clientWidth + 1).map((e) => e.textContent)"))
	require.False(b.t, eval[bool](b, "document.documentElement.scrollWidth > innerWidth"))
}

// TestLongListsAreSearchedByKeyboard finds a cause among all of the catalogue and
// a test among all that there are by typing.
func TestLongListsAreSearchedByKeyboard(t *testing.T) {
	for _, s := range []size{desk, small, phone} {
		t.Run(fmt.Sprint(s.width), func(t *testing.T) {
			b := openPlayable(t, s)
			b.show("cause")
			require.Greater(t, b.count("input[name=fault]"), 40)
			require.Less(t, b.shown("input[name=fault]"), 5, "folded at first")
			b.press("#cause-search")
			b.keys("worn pass")
			b.wait("one cause", "document.querySelector('.finder[data-searching]')")
			require.Equal(t, 1, b.shown(".finder input[name=fault]"))
			b.screenshot("cause-found")
			b.keys(kb.Enter)
			require.Equal(t, "pass-seat-worn", eval[string](b, "document.activeElement.value"))
			b.keys(" ")
			require.Contains(t, b.text("#chosen"), "pass disc worn")
			require.Zero(t, b.count("#log li"), "Enter names nothing yet")
			b.requireNothingCut()

			b.show("tests")
			b.requireNothingCut()
			b.press("#tests-search")
			b.keys("brine line flow")
			b.wait("one test", "document.querySelector('#tests .finder[data-searching]')")
			require.Equal(t, 1, b.shown("#tests [data-test]"))
			require.Equal(t, 1, b.shown("li[data-idle] [data-test=brine-draw]"), "in service the brine line stands still")
			for range "brine line flow" {
				b.keys(kb.Backspace)
			}
			require.Zero(t, b.shown("[data-test=brine-draw]"), "folded again")
			b.screenshot("tests-list")

			b.show("parts")
			b.requireNothingCut()
		})
	}
}

// TestControllerIsSetRight works on a part that is set and not opened.
func TestControllerIsSetRight(t *testing.T) {
	b := openPlayable(t, desk)
	b.work("controller", "set")
	require.Contains(t, b.text("#log"), "Controller: set right")
	require.Equal(t, 1, b.count("#log li[data-kind=adjust]"))
}

// TestNoCauseHidesUnderTheFootOfTheVerdict goes through the whole list by Tab, with a cause
// ticked so that slider and button stay at hand. WCAG 2.2, success criterion 2.4.11.
func TestNoCauseHidesUnderTheFootOfTheVerdict(t *testing.T) {
	for _, s := range []size{desk, small, phone} {
		t.Run(fmt.Sprint(s.width), func(t *testing.T) {
			b := openPlayable(t, s)
			b.show("cause")
			eval[bool](b, `(document.querySelectorAll("#cause details").forEach((d) => { d.open = true }), document.querySelector("input[value=house-leak]").click(), true)`)
			b.press("#cause-search")
			b.tabTo("#confidence", false)
		})
	}
}
