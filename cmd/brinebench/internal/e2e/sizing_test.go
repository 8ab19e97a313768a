package e2e

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// openSizing opens the desk at which a unit is sized.
func openSizing(t *testing.T, s size) *tab {
	t.Helper()
	b := openAt(t, site(t), "/sizing.html?lang=en", s)
	b.waitDesk()
	return b
}

// waitDesk waits for a page without a drawing.
func (b *tab) waitDesk() {
	b.t.Helper()
	b.waitFor(startPatience, "the desk", "globalThis.brinebenchReady || document.documentElement.dataset.state === 'failed'")
	require.Empty(b.t, b.text("#failure-title"), "%s %q", b.text("#failure"), b.takeFaults())
}

// fillIn types into a field in place of what it holds.
func (b *tab) fillIn(id, text string) {
	b.t.Helper()
	b.press("#f-" + id)
	b.run("the whole text", chromedp.Evaluate(fmt.Sprintf("document.querySelector('#f-%s').select()", id), nil))
	if text == "" {
		b.keys(kb.Backspace)
	} else {
		b.run("typing", input.InsertText(text)) // as one, since there are many
	}
	b.wait(id+" typed", fmt.Sprintf("document.querySelector('#f-%s').value === %q", id, text))
}

// marked waits for marks and returns the score, and how long the units took to live, ms.
func (b *tab) marked(id string) (score, tookMS float64) {
	b.t.Helper()
	b.waitFor(startPatience, "the marks", fmt.Sprintf("document.querySelector('#%s[data-score]')", id))
	number := func(data string) float64 {
		x, err := strconv.ParseFloat(eval[string](b, fmt.Sprintf("document.querySelector('#%s').dataset.%s", id, data)), 64)
		require.NoError(b.t, err)
		return x
	}
	return number("score"), number("took")
}

// writtenAnswer is the answer to a sheet of testdata as a trainee types it.
func writtenAnswer(t *testing.T, name string) (figures map[string]string, tank string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, "testdata/sizing/answers", name+".json"))
	require.NoError(t, err)
	var file struct {
		Tank    string
		Figures map[string]struct {
			Value json.Number
			Unit  string
		}
	}
	require.NoError(t, json.Unmarshal(data, &file))
	figures = map[string]string{}
	for id, f := range file.Figures {
		figures[id] = f.Value.String()
		if f.Unit != "" {
			figures[id] += " " + f.Unit
		}
	}
	return figures, file.Tank
}

// TestASheetIsAnsweredAndMarked answers a sheet of the library from start to end: bad
// input first, then a reload, the marks, the worked solution and both languages.
func TestASheetIsAnsweredAndMarked(t *testing.T) {
	b := openSizing(t, desk)
	b.press("[data-source=library]")
	b.pick("#sheet-choice", "four-at-20-gpg")
	b.wait("the sheet", "document.querySelector('#title').textContent.includes('Four people')")
	b.press("[data-show=answer]")
	b.press("[data-desk=mark]")
	b.wait("a message", "document.querySelector('#answer [role=alert] a')")
	require.Contains(t, b.text("#e-hardness"), "Nothing is answered yet")

	for id, bad := range map[string]string{"hardness": "100,000 ppm", "capacity": "thirty", "peak_flow": "17 gpm 64 L/min"} {
		b.fillIn(id, bad)
	}
	b.press("[data-desk=mark]")
	for id, want := range map[string]string{"hardness": "From 0.171 to 17,100 mg/L as CaCO₃", "capacity": "no number", "peak_flow": "Two figures"} {
		require.Contains(t, b.text("#e-"+id), want)
		require.Equal(t, "true", eval[string](b, fmt.Sprintf("document.querySelector('#f-%s').getAttribute('aria-invalid')", id)))
		require.Equal(t, "e-"+id, eval[string](b, fmt.Sprintf("document.querySelector('#f-%s').getAttribute('aria-describedby')", id)))
	}
	require.Equal(t, 3, b.count("#answer-troubles a"))
	require.Equal(t, "f-hardness", eval[string](b, "document.activeElement.id"))
	b.requireAccessible("an answer refused")
	b.screenshot("sizing-refused")

	figures, tank := writtenAnswer(t, "four-at-20-gpg")
	for id, text := range figures {
		if unit := strings.SplitN(text, " ", 2); len(unit) == 2 && b.count("select#u-"+id) == 1 {
			b.pick("#u-"+id, unit[1])
		}
		b.fillIn(id, text)
	}
	b.pick("#c-tank", tank)
	b.run("loading the page again", chromedp.Reload())
	b.waitDesk()
	require.Equal(t, figures["capacity"], eval[string](b, "document.querySelector('#f-capacity').value"), "kept across a reload")
	require.Equal(t, "true", eval[string](b, "document.querySelector('[data-show=answer]').getAttribute('aria-current')"))

	b.run("watching the progress", chromedp.Evaluate(`globalThis.bars = []; new MutationObserver(() => { const v = document.querySelector("#living-bar")?.value; if (v > 0) bars.push(v); }).observe(document.querySelector("#marks"), {attributes: true, childList: true, subtree: true})`, nil))
	b.press("[data-desk=mark]")
	score, took := b.marked("marks")
	t.Logf("three units lived 90 days in %.0f ms, the start of the worker included", took)
	require.InDelta(t, 79, score, 1, "as brinebench size marks it")
	require.NotEmpty(t, eval[[]float64](b, "bars"), "progress was seen")
	require.Equal(t, "follows", eval[string](b, "document.querySelector('[data-figure=interval]').dataset.verdict"))
	require.Equal(t, "wrong", eval[string](b, "document.querySelector('[data-figure=capacity]').dataset.verdict"))
	require.Equal(t, 3, b.count(".ninety svg"))
	b.requireAccessible("marks")
	b.screenshot("sizing-marks")

	b.press("[data-show=worked]")
	require.Equal(t, 29, b.count("[data-step]"))
	require.Contains(t, b.text("[data-step=daily_water]"), "4 × 75 gal")
	b.press("[data-units=si]")
	require.Contains(t, b.text("[data-step=daily_water]"), "1,136 L")
	b.press("[data-speak=es]")
	require.Contains(t, b.text("[data-step=daily_water]"), "personas × agua para cada una")
	b.press("[data-theme-choice=dark]")
	b.requireAccessible("the worked solution, dark")
}

// TestAJobOfOnesOwnIsWorkedOnAPhone writes a job by hand, as for a real house, sees what
// is wrong with it, takes it up, answers some of it and sets its controller.
func TestAJobOfOnesOwnIsWorkedOnAPhone(t *testing.T) {
	b := openSizing(t, phone)
	b.press("[data-source=own]")
	b.press("[data-desk=own-fill]")
	b.fillIn("people", "0")
	b.fillIn("water-hardness", "12 gpg / 205 ppm")
	b.press("[data-desk=own]")
	b.wait("the messages", "document.querySelectorAll('#own-troubles a').length === 2")
	require.Contains(t, b.text("#e-people"), "From 1 to 16")
	require.Contains(t, b.text("#e-water-hardness"), "Two figures")
	b.requireAccessible("a job refused")
	b.fillIn("people", "3")
	b.pick("#u-water-hardness", "gpg")
	b.fillIn("water-hardness", "12")
	b.press("[data-desk=own]")
	b.wait("the solution", "document.querySelectorAll('#worked [data-step]').length === 29")
	require.Positive(t, b.count("#worked [data-warning]"), "with its cautions")
	b.screenshot("sizing-own")

	b.press("[data-show=answer]")
	b.looksUpTheTables()
	for id, text := range map[string]string{"hardness": "205", "daily_water": "225", "daily_load": "2700", "salt_dose": "6"} {
		b.fillIn(id, text)
	}
	b.pick("#c-tank", "tank-9-in")
	b.press("[data-desk=mark]")
	score, _ := b.marked("marks")
	require.Greater(t, score, 10.0)
	require.Less(t, score, 60.0, "most of it is missing")
	require.Equal(t, "right", eval[string](b, "document.querySelector('[data-figure=daily_water]').dataset.verdict"))
	b.requireAccessible("marks on a phone")

	b.press("[data-show=set]")
	b.press("[data-controller=clock]")
	for range 10 { // from noon to two at night
		b.press("[data-dial=start] .wheel:nth-child(1) .down")
	}
	b.press("[data-dial=every_days] .wheel:nth-child(2) .up")
	b.keys(kb.ArrowUp)
	require.Equal(t, "2", eval[string](b, "document.querySelector('[data-dial=every_days]').getAttribute('aria-valuenow')"))
	require.Equal(t, "02:00", eval[string](b, "document.querySelector('[data-dial=start]').getAttribute('aria-valuetext')"))
	b.requireAccessible("the panel")
	b.press("[data-desk=try]")
	score, _ = b.marked("set-marks")
	require.Greater(t, score, 0.0)
	require.Equal(t, "right", eval[string](b, "document.querySelector('#set-marks [data-item=start]').dataset.verdict"))
	b.screenshot("sizing-set")
	b.press("[data-controller=demand]")
	require.Equal(t, 7, b.count("[data-dial]"))
}

// looksUpTheTables opens the tables from within the form on a phone: they are seen from their
// top, rules first, nothing of the sheet lies over the form before or after, and the form
// comes back where it was left.
func (b *tab) looksUpTheTables() {
	b.t.Helper()
	const far = "document.querySelector('#f-interval')"
	top := func(of string) float64 { return eval[float64](b, of+".getBoundingClientRect().top") }
	b.run("far down the form", chromedp.Evaluate(far+".scrollIntoView({block: 'center'})", nil))
	was := top(far)
	require.Less(b.t, eval[float64](b, "document.querySelector('#sheet').getBoundingClientRect().bottom"), 0.0, "the sheet lies over no field")
	b.press("[data-desk=look-tables]")
	b.wait("the rules", "document.querySelector('#sheet [data-table=rules] tbody tr')")
	bar := eval[float64](b, "document.querySelector('#sections').getBoundingClientRect().bottom")
	require.InDelta(b.t, bar, top("document.querySelector('[data-fold=tables]')"), 40, "below the bar")
	b.requireAccessible("tables on a phone")
	b.press("[data-desk=look-back]")
	require.InDelta(b.t, was, top(far), 2, "where it was left")
}

// TestWorksheetAndKeyArePrinted prints both for a drawn job; the key alone has the answers.
func TestWorksheetAndKeyArePrinted(t *testing.T) {
	b := openSizing(t, desk)
	b.fillIn("seed", "0.5")
	b.press("[data-desk=draw]")
	require.Contains(t, b.text("#e-seed"), "not a whole number")
	b.fillIn("seed", "12")
	b.press("[data-desk=draw]")
	b.press("[data-show=print]")
	require.Equal(t, 29, b.count("#paper .blank"))
	require.Zero(t, b.count("#paper .result"))
	b.printTo("sizing-worksheet.pdf")
	b.requireAccessible("the worksheet")
	b.press("[data-paper=key]")
	require.Equal(t, 29, b.count("#paper .result"))
	b.printTo("sizing-key.pdf")
}

// printTo writes the page as it comes on paper into build/screenshots.
func (b *tab) printTo(name string) {
	b.t.Helper()
	var pdf []byte
	b.run("printing", chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = page.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	require.True(b.t, bytes.HasPrefix(pdf, []byte("%PDF")))
	dir := filepath.Join(root, "build/screenshots")
	require.NoError(b.t, os.MkdirAll(dir, 0o755))
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, name), pdf, 0o644))
	require.Contains(b.t, []int{3, 4, 5}, bytes.Count(pdf, []byte("/Type /Page\n")), "pages")
}
