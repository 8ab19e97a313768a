package e2e

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// TestCardsAreReadAndPrinted opens the cards of a unit, in both languages and systems
// of units, and prints them.
func TestCardsAreReadAndPrinted(t *testing.T) {
	b := openAt(t, site(t), "/cards.html?lang=en&unit=brine-first", desk)
	b.waitFor(startPatience, "the cards", "document.documentElement.dataset.state === 'ready'")
	require.Equal(t, 5, b.count("[data-card^=position]"))
	parts := b.count("[data-card^=part]")
	require.Greater(t, parts, 20)
	b.waitFor(startPatience, "what wears", "document.querySelector('main').dataset.wear === 'ready'")
	brine := "[data-card=position-brine]"
	require.Contains(t, b.text(brine), "gpm up", "upflow brining")
	require.Contains(t, b.text("[data-card=part-injector]"), "instead of")
	require.Contains(t, b.text("[data-card=part-injector]"), "WARNING")
	b.requireAccessible("all cards")
	require.Greater(t, b.printed(), 3, "all on a few sheets")
	b.requireWithinFrames()
	b.press("[data-units=si]")
	require.Contains(t, b.text(brine), "L/min")
	b.press("[data-speak=es]")
	require.Contains(t, b.text(brine), "hacia arriba")
	b.pick("#unit", "standard")
	require.Contains(t, b.text(brine), "hacia abajo")
	b.requireWithinFrames()
	b.waitFor(startPatience, "what wears of the other unit", "document.querySelector('main').dataset.wear === 'ready'")
	b.press("#sought")
	b.keys("puente sal") // without its accents, if it had any
	b.wait("the cards with these words", "document.querySelectorAll('[data-card]:not([hidden])').length === 2")
	require.Contains(t, b.text("#found"), "2 fichas")
	b.keys(strings.Repeat(kb.Backspace, 10))
	b.wait("all again", fmt.Sprintf("document.querySelectorAll('[data-card]:not([hidden])').length === %d", 5+parts))
	b.pick("#which", "position-brine")
	require.Equal(t, 1, b.count("[data-card]"))
	require.Equal(t, 1, b.printed())
	for _, s := range []size{desk, small, phone} {
		b.resize(s)
		b.requireAccessible(fmt.Sprintf("a card at %v", s))
		b.screenshot("cards")
	}
	b.press("[data-theme-choice=dark]")
	b.requireAccessible("a dark card")
}

// requireWithinFrames holds that nothing of a card leaves its frame on a sheet of A4, which
// is narrower than Letter between the margins.
func (b *tab) requireWithinFrames() {
	b.t.Helper()
	const a4 = 688 // CSS px between margins of 14 mm
	was := b.size
	b.resize(size{width: a4, height: 1000})
	b.run("print media", emulation.SetEmulatedMedia().WithMedia("print"))
	require.Empty(b.t, eval[string](b, `[...document.querySelectorAll(".card")].filter((card) => {
		const frame = card.getBoundingClientRect();
		return [...card.querySelectorAll("*")].some((x) => x.getBoundingClientRect().right > frame.right + 0.5);
	}).map((card) => card.dataset.card).join()`), "cards whose columns leave them")
	b.run("media as they are", emulation.SetEmulatedMedia().WithMedia(""))
	b.resize(was)
}

var sheet = regexp.MustCompile(`/Type /Page\b`)

// printed prints the page and returns the number of sheets.
func (b *tab) printed() int {
	b.t.Helper()
	var pdf []byte
	b.run("printing", chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	require.NoError(b.t, os.WriteFile(filepath.Join(root, "build/screenshots/cards.pdf"), pdf, 0o644))
	return len(sheet.FindAll(pdf, -1))
}
