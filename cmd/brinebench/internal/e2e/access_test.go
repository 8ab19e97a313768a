package e2e

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// checker is axe-core 4.14.1, which tries a page by the success criteria of WCAG
// 2.2 that a program can try. It comes into build/axe through the ordinary npm
// client, of the content that the lock file names.
var checker = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(root, "build", "axe")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", err
	}
	for _, name := range []string{"package.json", "package-lock.json"} {
		text, err := os.ReadFile(filepath.Join("testdata", "axe", name))
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), text, 0o644)
		}
		if err != nil {
			return "", err
		}
	}
	script := filepath.Join(dir, "node_modules", "axe-core", "axe.min.js")
	if _, err := os.Stat(script); err != nil {
		npm := exec.Command("npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund")
		npm.Dir = dir
		if out, err := npm.CombinedOutput(); err != nil {
			return "", fmt.Errorf("npm: %w: %s", err, out)
		}
	}
	text, err := os.ReadFile(script)
	return string(text), err
})

// tried is script that returns what axe-core finds against WCAG 2.2 A and AA.
const tried = `(async () => {
	const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
	const found = await axe.run(document, {runOnly: {type: "tag", values: tags}, resultTypes: ["violations"]});
	return found.violations.map((v) => v.id + ": " + v.help + ": " + v.nodes.map((n) => n.html.slice(0, 160)).join(" ; "));
})()`

// requireAccessible holds the page as it stands to WCAG 2.2 AA: by axe-core, and
// by what can be asked of every control (2.5.8, 1.4.10).
func (b *tab) requireAccessible(what string) {
	b.t.Helper()
	script, err := checker()
	require.NoError(b.t, err)
	if !eval[bool](b, "typeof axe === 'object'") {
		b.run("axe-core", chromedp.Evaluate(script, nil))
	}
	var found []string
	b.run("axe-core at work", chromedp.Evaluate(tried, &found, chromedp.EvalAsValue, awaitPromise))
	require.Empty(b.t, found, "%s at %d px", what, b.size.width)
	require.Empty(b.t, eval[[]string](b, tooSmall), "%s at %d px", what, b.size.width)
	require.False(b.t, eval[bool](b, "document.documentElement.scrollWidth > innerWidth"), "%s sticks out at %d px", what, b.size.width)
}

// tooSmall is script that lists the controls below 24 by 24 CSS px, with the label
// that can be pressed in their stead.
const tooSmall = `[...document.querySelectorAll("button, select, input, textarea, summary, a.push")].filter((e) => e.checkVisibility()).filter((e) =>
	[e, ...(e.labels ?? [])].every((part) => { const r = part.getBoundingClientRect(); return r.width < 24 || r.height < 24; })).map((e) => e.outerHTML.slice(0, 120))`

// sectionsOpen are the sections of a call that is under way.
var sectionsOpen = []string{"call", "unit", "tests", "parts", "log", "cause", "practice"}

// TestPageIsAccessible goes through every place of the page in both themes and at
// three sizes, the smallest being a desktop page at four times its size.
func TestPageIsAccessible(t *testing.T) {
	b := openPlayable(t, desk)
	b.press(`[data-pace="0"]`)
	b.requireAccessible("the call")
	for _, s := range []size{desk, small, {width: 320, height: 568, phone: true}} {
		b.resize(s)
		for _, section := range sectionsOpen {
			b.show(section)
			b.requireAccessible(section)
		}
		b.run("part", chromedp.Evaluate("document.querySelector('#parts [data-part=injector]').click()", nil))
		b.requireAccessible("a part's sheet")
		b.run("part", chromedp.Evaluate("document.querySelector('[data-act=part-close]').click()", nil))
	}
	b.resize(desk)
	b.press("[data-theme-choice=dark]")
	for _, section := range sectionsOpen {
		b.show(section)
		b.requireAccessible("dark " + section)
	}
	b.press("#cautions-open")
	b.requireAccessible("the cautions")
	b.keys(kb.Escape)
	b.work("injector", "open")
	b.requireAccessible("an act that was stopped")
}

// TestEveryPartHasOneNamedControl follows the water from part to part by arrow
// keys: each part of the unit is met once, as a real button with its name, large
// enough, on the screen, its focus seen. Escape leaves.
func TestEveryPartHasOneNamedControl(t *testing.T) {
	b := openPlayable(t, desk)
	b.press(`[data-pace="0"]`)
	b.show("parts")
	n := b.count("#parts [data-part]")
	require.Greater(t, n, 20)
	require.Empty(t, eval[[]string](b, `[...document.querySelectorAll("#parts [data-part]")].filter((e) => e.tagName !== "BUTTON" || !e.textContent.trim()).map((e) => e.outerHTML)`))
	require.Equal(t, n, eval[int](b, `new Set([...document.querySelectorAll("#parts [data-part]")].map((e) => e.textContent.trim())).size`), "no name twice")
	b.run("the first", chromedp.Focus("#parts [data-part]"))
	seen := map[string]bool{}
	for range n {
		part := eval[string](b, "document.activeElement.dataset.part")
		require.False(t, seen[part], part)
		seen[part] = true
		b.keys(kb.ArrowRight)
		require.Equal(t, "here", eval[string](b, fmt.Sprintf("%s('#parts [data-part=\"' + document.activeElement.dataset.part + '\"]', false)", atFocus)))
		require.True(t, eval[bool](b, `((r) => r.width >= 24 && r.height >= 24)(document.activeElement.getBoundingClientRect())`))
	}
	require.Len(t, seen, n)
	b.keys(kb.ArrowLeft + kb.Enter)
	b.wait("the part's sheet", "document.activeElement.classList.contains('sheet')")
	b.keys(kb.Escape)
	b.wait("the list", "document.activeElement.dataset.part")
	b.keys(kb.Escape)
	require.Equal(t, "parts", eval[string](b, "document.activeElement.dataset.show"))
	before := b.heldStill()
	b.keys("abcdefghijklmnopqrstuvwxyz0123456789")
	require.Equal(t, before, b.heldStill(), "no letter alone does anything")
}

// TestLiveRegionIsNoTicker watches what is read aloud during a regeneration at the
// fastest pace: what the unit did, never more than once a second.
func TestLiveRegionIsNoTicker(t *testing.T) {
	b := openPlayable(t, desk)
	b.control("start-regeneration")
	eval[bool](b, `globalThis.said = [], new MutationObserver(() => said.push([performance.now(), document.querySelector("#live").textContent]))
		.observe(document.querySelector("#live"), {childList: true, characterData: true, subtree: true}), true`)
	b.press(`[data-pace="600"]`)
	b.wait("the drum away", `!/service/i.test(document.querySelector("#time-station").textContent)`)
	b.waitFor(eventPatience, "the end of the regeneration", `/service/i.test(document.querySelector("#time-station").textContent)`)
	b.run("the last words", chromedp.Sleep(2*time.Second))
	said := eval[[][2]any](b, "said")
	require.NotEmpty(t, said)
	var all []string
	for i, s := range said {
		all = append(all, s[1].(string))
		if i > 0 {
			require.GreaterOrEqual(t, s[0].(float64)-said[i-1][0].(float64), 950.0, "%q", all)
		}
	}
	require.Less(t, len(said), 25, "%q", all)
	require.Contains(t, strings.Join(all, " "), "service")
}

// TestPageHonoursWhatTheSystemAsksFor emulates less motion and forced colours.
func TestPageHonoursWhatTheSystemAsksFor(t *testing.T) {
	b := openPlayable(t, desk)
	b.run("forced colours", emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{
		{Name: "forced-colors", Value: "active"}, {Name: "prefers-reduced-motion", Value: "reduce"},
	}))
	b.reload()
	b.wait("the call", "document.documentElement.dataset.state === 'ready'")
	b.screenshot("forced-colours")
	require.NotEqual(t,
		eval[string](b, "getComputedStyle(document.querySelector('[data-pace=\"1\"]')).border"),
		eval[string](b, "getComputedStyle(document.querySelector('[data-pace=\"10\"]')).border"), "the pace chosen can be told by its edge")
	require.Equal(t, 0, eval[int](b, "document.getAnimations().length"))
}
