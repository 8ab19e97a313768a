package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// benchLink is a bench of two units with 66 minutes behind them: a healthy one, and one
// whose nozzle is plugged, both on a spent bed and sent to regenerate at once.
const benchLink = "#v=1&units=free.standard,call.hard-water-at-the-mill-house&seed=1&tick=16000" +
	"&acts=1,1,fault.nozzle-plugged,0.98;1,0,spend-bed,1;1,1,spend-bed,1;2,0,start-regeneration,1;2,1,start-regeneration,1;9000,0,hardness,5"

const benchTicks = 16000

// openBench opens the bench at what a link holds, once that has been lived.
func openBench(t testing.TB, s size) *tab {
	t.Helper()
	b := openAt(t, site(t), "/bench.html?lang=en"+benchLink, s)
	b.waitPlayable()
	b.waitFor(startPatience, "the link's moment", fmt.Sprintf("document.querySelector('#page').dataset.hash && document.querySelector('#page').dataset.tick === '%d'", benchTicks))
	return b
}

// hash waits until time stands and returns the units' hash.
func (b *tab) hash() string {
	b.t.Helper()
	b.wait("time to stand", "document.querySelector('#page').dataset.hash")
	return eval[string](b, "document.querySelector('#page').dataset.hash")
}

// jump moves the time slider to a tick, and returns how long that took, ms.
func (b *tab) jump(tick int) float64 {
	b.t.Helper()
	b.run("the slider", chromedp.Evaluate(fmt.Sprintf(`(() => {
		const page = document.querySelector("#page"), s = document.querySelector("#scrub");
		delete page.dataset.jumpMs;
		s.value = %d;
		s.dispatchEvent(new Event("input", {bubbles: true}));
	})()`, tick), nil))
	b.wait("the moment", fmt.Sprintf("document.querySelector('#page').dataset.jumpMs && document.querySelector('#page').dataset.hash && document.querySelector('#page').dataset.tick === '%d'", tick))
	return eval[float64](b, "Number(document.querySelector('#page').dataset.jumpMs)")
}

// enterNumber types a number into a field and leaves it.
func (b *tab) enterNumber(selector, number string) {
	b.t.Helper()
	b.run(selector, chromedp.Evaluate(fmt.Sprintf(`(() => {
		const n = document.querySelector(%q);
		n.closest("details").open = true;
		n.value = %q;
		n.dispatchEvent(new Event("change", {bubbles: true}));
	})()`, selector, number), nil))
}

// TestBenchGoesBackAndForthAndTriesOtherwise scrubs back an hour and forth again at
// 600×, tries what would have been, reads a table and a link, on two units in step.
func TestBenchGoesBackAndForthAndTriesOtherwise(t *testing.T) {
	b := openBench(t, desk)
	end := b.hash()
	require.Contains(t, b.text("#captions"), "Injector nozzle plugged")
	b.screenshot("bench-two")

	b.press(`[data-back="60"]`)
	b.press(`[data-bench="end"]`)
	b.wait("the end", "document.querySelector('[data-bench=\"end\"]').disabled")
	require.Equal(t, "scrub", eval[string](b, "document.activeElement.id"), "the button is of no more use")
	b.press(`[data-back="3600"]`)
	b.wait("an hour before", fmt.Sprintf("document.querySelector('#page').dataset.tick === '%d'", benchTicks-14400))
	hour := b.hash()
	require.NotEqual(t, end, hour)
	b.press(`[data-pace="600"]`)
	b.wait("forth again", "Number(document.querySelector('#page').dataset.tick) > 6000")
	b.press(`[data-pace="0"]`)
	b.jump(benchTicks)
	require.Equal(t, end, b.hash(), "the same bits there and back")
	b.jump(benchTicks - 14400)
	require.Equal(t, hour, b.hash())

	b.jump(3000) // in brine draw: the nozzle is cleared
	b.press(`[data-side="1"]`)
	b.enterNumber(`[data-number="fault.nozzle-plugged"]`, "0")
	b.wait("a what-if", "document.querySelector('#what-if[data-on]')")
	b.press(`[data-pace="600"]`)
	b.wait("some of it", "Number(document.querySelector('#page').dataset.tick) > 8000")
	b.press(`[data-pace="0"]`)
	b.show("figures")
	b.wait("four columns", "document.querySelectorAll('#figures tr[data-quantity=\"bed-left\"] td').length === 5")
	b.wait("figures", "document.querySelectorAll('#figures tr[data-quantity=\"bed-left\"] td')[4].textContent")
	left := eval[[]string](b, `[...document.querySelectorAll('#figures tr[data-quantity="bed-left"] td')].map((e) => e.textContent)`)
	require.Equal(t, "0 %", left[4], "what was: the bed stays spent")
	require.NotEqual(t, "0 %", left[2])
	b.screenshot("bench-what-if")
	b.requireAccessible("a what-if")
	b.press(`[data-bench="back"]`)
	b.wait("what was", fmt.Sprintf("document.querySelector('#page').dataset.tick === '%d'", benchTicks))
	require.Equal(t, end, b.hash(), "the trunk is untouched")

	b.show("charts")
	eval[bool](b, `URL.createObjectURL = (blob) => { blob.text().then((text) => { globalThis.table = text; }); return "#"; }, true`)
	b.press(`[data-bench="csv"]`)
	b.wait("the table", "globalThis.table")
	rows := strings.Split(strings.TrimSpace(eval[string](b, "table")), "\n")
	require.Len(t, rows, 1+1800/2+1, "half an hour, a row every two seconds, and the head")
	require.Equal(t, 1+2*4, len(strings.Split(rows[900], ",")), "four charts of two units")

	b.show("units")
	b.press(`[data-bench="link"]`)
	b.wait("the code", "document.querySelector('#link svg path')")
	require.Equal(t, eval[string](b, "location.href.split('?')[0] + location.hash"), eval[string](b, "document.querySelector('#link-text').value"))
	b.reload()
	b.waitFor(startPatience, "the same moment", fmt.Sprintf("document.querySelector('#page')?.dataset.hash === %q", end))
}

// TestBenchFitsAndIsAccessible goes through the bench's sections at three sizes, in
// both themes, with a part chosen on the drawing of the second unit.
func TestBenchFitsAndIsAccessible(t *testing.T) {
	b := openBench(t, desk)
	at := b.reach("#stage canvas")
	box := eval[[]float64](b, `((r) => [r.width, r.height])(document.querySelector("#stage").getBoundingClientRect())`)
	b.pressAt(at.X+0.165*box[0], at.Y+0.31*box[1]) // the bed of B
	b.wait("the part's controls", "document.querySelector('#knobs .sheet [data-knob]')")
	require.Contains(t, b.text("#knobs .sheet"), "Depth of the bed")
	for _, s := range []size{desk, small, phone} {
		b.resize(s)
		sections := []string{"charts", "set"}
		if s == desk {
			sections = []string{"figures", "charts", "units", "set"}
		}
		for _, section := range sections {
			b.show(section)
			if s == phone {
				require.Less(t, eval[float64](b, "document.querySelector('.sec.current').getBoundingClientRect().top / innerHeight"), 0.7, "%s is seen once it was asked for", section)
			}
			b.requireAccessible(fmt.Sprintf("bench, %s", section))
		}
		b.screenshot("bench-set")
	}
	b.show("charts")
	b.reach(`[data-bench="csv"]`) // under the charts, on a phone too
	b.show("set")
	b.enterNumber(`[data-number="hardness"]`, "9999")
	b.wait("the limits", "document.querySelector('#live').textContent.includes('from 1 to 100 gpg; the nearest was set')")
	b.press(`[data-push="start-regeneration"]`)
	b.press(`[data-pace="60"]`)
	b.wait("it in backwash", fmt.Sprintf("Number(document.querySelector('#page').dataset.tick) > %d", benchTicks+400))
	b.press(`[data-pace="0"]`)
	b.press(`[data-push="start-regeneration"]`)
	b.wait("it runs already", "document.querySelector('#live').textContent.includes('A regeneration is running already.')")
	b.press("[data-theme-choice=dark]")
	b.press("[data-speak=es]")
	b.wait("Spanish", "document.documentElement.lang === 'es'")
	b.show("set")
	require.Contains(t, b.text("#knobs"), "Iniciar una regeneración")
	b.requireAccessible("dark, in Spanish")
	b.screenshot("bench-dark")
}

// TestBenchTellsWhichUnitIsSet puts a second unit beside the first, and tries to while a
// what-if goes on, which lives on beyond the last moment with what was beside it.
func TestBenchTellsWhichUnitIsSet(t *testing.T) {
	b := openAt(t, site(t), "/bench.html?lang=en#v=1&units=free.standard&seed=1&tick=2400", desk)
	b.waitPlayable()
	b.waitFor(startPatience, "the link's moment", "document.querySelector('#page').dataset.hash && document.querySelector('#page').dataset.tick === '2400'")
	was := b.hash()
	b.press(`[data-back="60"]`)
	b.press(`[data-push="start-regeneration"]`)
	b.show("units")
	require.True(t, eval[bool](b, "document.querySelector('[data-bench=double]').disabled"))
	require.Contains(t, b.text("#units"), "End it first: “Back to what was” or “Keep this instead”.")
	b.press(`[data-pace="600"]`)
	b.wait("more than there was", "Number(document.querySelector('#page').dataset.tick) > 4000")
	b.press(`[data-pace="0"]`)
	b.show("figures")
	b.wait("the hour of both", "document.querySelectorAll('#figures tr[data-quantity=\"bed-left\"] td')[2]?.textContent")
	b.press(`[data-bench="back"]`)
	b.wait("what was", "document.querySelector('#page').dataset.tick === '2400'")
	require.Equal(t, was, b.hash())

	b.show("units")
	b.press(`[data-bench="double"]`)
	b.wait("which is set", "document.querySelector('#live').textContent.includes('The controls set A')")
	b.show("set")
	require.Contains(t, b.text("#set-side"), "Which unit is set")
	require.Equal(t, "true", eval[string](b, "document.querySelector('[data-side=\"0\"]').ariaPressed"))
	b.press(`[data-push="spend-bed"]`)
	b.wait("whose bed", "document.querySelector('#live').textContent.startsWith('A: Done')")
	b.press(`[data-side="both"]`)
	b.press(`[data-push="start-regeneration"]`)
	b.wait("both", "/^A: .* B: /.test(document.querySelector('#live').textContent)")
	b.requireAccessible("two units")
}

func TestBenchSaysWhatIsWrongWithALink(t *testing.T) {
	b := openAt(t, site(t), "/bench.html?lang=en#v=1&units=free.nosuch&seed=1&tick=0", desk)
	b.waitPlayable()
	require.Contains(t, b.text("#live"), `no unit is named "free.nosuch"`)
	require.Contains(t, b.text("#captions"), "Downflow brining")
}

// jumping is script that jumps about with the time slider, and tells how long each jump
// took until the moment was reached, and until a picture of it had been drawn, ms.
const jumping = `(async () => {
	const s = document.querySelector("#scrub"), page = document.querySelector("#page"), times = [];
	const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
	for (let i = 1; i <= 10; i++) {
		const from = performance.now();
		delete page.dataset.jumpMs;
		s.value = i * 7919 % %d;
		s.dispatchEvent(new Event("input", {bubbles: true}));
		while (!page.dataset.jumpMs) await drawn();
		const there = performance.now() - from;
		await drawn();
		times.push([there, performance.now() - from]);
	}
	return times;
})()`

// BenchmarkSpeedOfJump prints how long a jump in the last two hours of two units takes
// until the moment is reached, and until it is drawn, ms: the longest and the mean of
// ten. Allowed are 300.
func BenchmarkSpeedOfJump(b *testing.B) {
	x := openBench(b, desk)
	for b.Loop() {
		var times [][2]float64
		x.run("jumps", chromedp.Evaluate(strings.Replace(jumping, "%d", fmt.Sprint(benchTicks), 1), &times, chromedp.EvalAsValue, awaitPromise))
		var longest, mean [2]float64
		for _, t := range times {
			for i := range t {
				longest[i], mean[i] = max(longest[i], t[i]), mean[i]+t[i]/float64(len(times))
			}
		}
		b.ReportMetric(longest[0], "ms-longest")
		b.ReportMetric(mean[0], "ms-mean")
		b.ReportMetric(longest[1], "ms-drawn-longest")
		b.ReportMetric(mean[1], "ms-drawn-mean")
	}
}
