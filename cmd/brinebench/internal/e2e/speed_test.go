package e2e

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// slowed is how many times slower a computer than this one the second half of each
// benchmark stands for. The graphics, which are drawn in software here, are not slowed.
const slowed = 4

// drewMark is left in the browser's trace by a callback that drew.
const drewMark = "brinebench-drew"

// clocked is script that runs before the page's: it times every callback of an
// animation frame in which something is drawn, as a whole, and tells when the still
// picture was painted and when the unit was first drawn, in ms since the page was asked for.
const clocked = `(() => {
	globalThis.frames = [];
	const ask = requestAnimationFrame, { flush } = WebGL2RenderingContext.prototype;
	let drew;
	WebGL2RenderingContext.prototype.flush = function () { drew = true; flush.call(this); };
	globalThis.requestAnimationFrame = (f) => ask((t) => {
		const from = performance.now();
		drew = false;
		f(t);
		if (!drew) return;
		frames.push(performance.now() - from);
		performance.mark("` + drewMark + `");
	});
	new PerformanceObserver((list) => {
		for (const e of list.getEntries()) globalThis.stillMS ??= e.renderTime;
	}).observe({ type: "element", buffered: true });
	let drawn;
	Object.defineProperty(globalThis, "brinebenchDrawn", {
		get: () => drawn,
		set: (value) => { drawn = value; globalThis.drawnMS = performance.now(); },
	});
})()`

// openClocked starts Chromium so many times slower and loads an address of the page.
func openClocked(b *testing.B, address string, times float64) *tab {
	b.Helper()
	x := openAt(b, site(b), "/sizes.json", desk)
	at := eval[string](x, "location.origin") + address
	x.run("clock", chromedp.ActionFunc(func(ctx context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(clocked).Do(ctx)
		return err
	}), emulation.SetCPUThrottlingRate(times), chromedp.Navigate(at))
	x.waitPlayable()
	return x
}

// BenchmarkSpeedOfStart prints the ms from asking for the page until the still picture
// of the unit is painted, until the unit itself is drawn, and until it can be worked.
// Allowed are 1,500 for the first picture, and 4,000 when slowed. A browser that has just
// been started sets its own graphics up meanwhile, which takes it most of that.
func BenchmarkSpeedOfStart(b *testing.B) {
	for _, row := range []struct {
		times   float64
		browser string
	}{{1, "just-started"}, {1, "running"}, {slowed, "running"}} {
		b.Run(fmt.Sprintf("slowed=%v/browser=%s", row.times, row.browser), func(b *testing.B) {
			for range b.N {
				x := openClocked(b, "/", row.times)
				b.ReportMetric(eval[float64](x, "stillMS"), "ms-picture")
				b.ReportMetric(eval[float64](x, "drawnMS"), "ms-drawn")
				x.waitFor(startPatience, "the call", "document.documentElement.dataset.state === 'ready'")
				b.ReportMetric(eval[float64](x, "performance.now()"), "ms-ready")
			}
		})
	}
}

type memory struct{ Marks, Objects, Bytes, Collections, Heap float64 }

// BenchmarkSpeedOfFrames prints the median and the 95th percentile of the ms that
// the callback of an animation frame takes, with 2,000 flow marks, and what a frame
// allocates. Allowed are 4 and 8 ms. Worked is without the time in which the drawing
// by software had the processor, which a graphics card would not have taken.
func BenchmarkSpeedOfFrames(b *testing.B) {
	for _, times := range []float64{1, slowed} {
		x := openClocked(b, "/?marks=2000", times)
		x.control("start-regeneration")
		x.runUntil("(?i)backwash")
		for _, pace := range []string{"1", "60", "600"} {
			b.Run(fmt.Sprintf("slowed=%v/pace=%s", times, pace), func(b *testing.B) {
				for range b.N {
					x.t = b
					x.press(fmt.Sprintf("[data-pace=%q]", pace))
					x.reportFrames(map[string]int{"1": 600, "60": 200, "600": 100}[pace])
				}
			})
		}
		b.Run(fmt.Sprintf("slowed=%v/next-event", times), func(b *testing.B) {
			for range b.N {
				x.t = b
				x.press(`[data-pace="1"]`)
				x.runUntil("^Service")
				x.control("start-regeneration")
				eval[bool](x, `globalThis.seeks = setInterval(() => {
					const next = document.querySelector("[data-act=next-event]");
					if (next.getAttribute("aria-pressed") === "false") next.click();
				}, 50), true`)
				x.reportFrames(100)
				eval[bool](x, "clearInterval(globalThis.seeks), true")
			}
		})
	}
}

// reportFrames watches so many frames, or those of two minutes.
func (x *tab) reportFrames(frames int) {
	b := x.t.(*testing.B)
	b.Helper()
	x.run("warming up", chromedp.Sleep(time.Second))
	before, from := eval[memory](x, "frames.length = 0, brinebenchMeasure()"), time.Now()
	worked := x.workedMS(func() {
		for end := time.Now().Add(startPatience); eval[int](x, "frames.length") < frames && time.Now().Before(end); {
			time.Sleep(time.Second)
		}
	})
	after, ms, tookS := eval[memory](x, "brinebenchMeasure()"), eval[[]float64](x, "frames"), time.Since(from).Seconds()
	require.GreaterOrEqual(b, after.Marks, 2000.0)
	slices.Sort(ms)
	slices.Sort(worked)
	n := float64(len(ms))
	b.ReportMetric(worked[len(worked)/2], "ms-worked-median")
	b.ReportMetric(worked[len(worked)*95/100], "ms-worked-p95")
	b.ReportMetric(ms[len(ms)/2], "ms-median")
	b.ReportMetric(ms[len(ms)*95/100], "ms-p95")
	b.ReportMetric(ms[len(ms)-1], "ms-worst")
	b.ReportMetric((after.Objects-before.Objects)/n, "objects/frame")
	b.ReportMetric((after.Bytes-before.Bytes)/n, "bytes/frame")
	b.ReportMetric((after.Bytes-before.Bytes)/tookS, "bytes/s") // some of it goes by the clock, not by the frame
	b.ReportMetric(n/tookS, "frames/s")
	b.ReportMetric(0, "ns/op") // not printed
}
