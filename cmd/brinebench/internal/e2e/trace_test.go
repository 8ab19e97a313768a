package e2e

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// traced is an event of Chromium's trace: times are in µs, TDur is what the thread
// itself worked, without the time in which other threads had the processor.
type traced struct {
	Name    string
	Tid     int
	Ts, Dur float64
	TDur    *float64
}

// workedMS is how long the page's thread worked in each callback of an animation
// frame in which something was drawn, in ms, while watch went on.
func (x *tab) workedMS(watch func()) (ms []float64) {
	b := x.t.(*testing.B)
	b.Helper()
	ctx, stop := context.WithCancel(x.ctx)
	defer stop()
	var events []traced
	complete := make(chan struct{})
	chromedp.ListenTarget(ctx, func(event any) {
		switch event := event.(type) {
		case *tracing.EventDataCollected:
			for _, raw := range event.Value {
				var e traced
				if json.Unmarshal(raw, &e) == nil && (e.Name == "FireAnimationFrame" || e.Name == drewMark) {
					events = append(events, e)
				}
			}
		case *tracing.EventTracingComplete:
			close(complete)
		}
	})
	x.run("tracing", tracing.Start().WithTraceConfig(&tracing.TraceConfig{
		IncludedCategories: []string{"devtools.timeline", "blink.user_timing"}, ExcludedCategories: []string{"*"},
	}))
	watch()
	x.run("the trace", tracing.End())
	<-complete
	for _, e := range events {
		if e.Name != "FireAnimationFrame" || e.TDur == nil {
			continue
		}
		for _, mark := range events {
			if mark.Name == drewMark && mark.Tid == e.Tid && e.Ts <= mark.Ts && mark.Ts <= e.Ts+e.Dur {
				ms = append(ms, *e.TDur/1000)
				break
			}
		}
	}
	require.NotEmpty(b, ms, "frames in %d events of the trace", len(events))
	return ms
}
