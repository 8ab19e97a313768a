package e2e

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// eval returns the value of a JavaScript expression.
func eval[T any](b *tab, expression string) T {
	b.t.Helper()
	var value T
	b.run(expression, chromedp.Evaluate(expression, &value))
	return value
}

// text returns what the first element of a selector says.
func (b *tab) text(selector string) string {
	b.t.Helper()
	return eval[string](b, fmt.Sprintf(`(document.querySelector(%q)?.innerText ?? "").trim()`, selector))
}

// count returns how many elements a selector finds.
func (b *tab) count(selector string) int {
	b.t.Helper()
	return eval[int](b, fmt.Sprintf("document.querySelectorAll(%q).length", selector))
}

// serverError is what the browser answers a question with whose page has gone
// (JSON-RPC 2.0, 5.1: -32000 to -32099 are the server's own).
const serverError = -32000

// asked puts a question to the page, as JavaScript. Of a page that gives way to the
// next in that very moment there is no answer: the browser drops the question then.
func (b *tab) asked(question string, answer any) (answered bool) {
	b.t.Helper()
	err := b.try(chromedp.Evaluate(question, answer))
	if dropped := (*cdproto.Error)(nil); errors.As(err, &dropped) && dropped.Code == serverError {
		b.t.Logf("no answer to %s: %v", question, err)
		return false
	}
	require.NoError(b.t, err, question)
	return true
}

// holds tells whether a JavaScript condition holds.
func (b *tab) holds(condition string) (yes bool) {
	b.t.Helper()
	return b.asked("!!("+condition+")", &yes) && yes
}

// waitFor polls a JavaScript condition until it holds.
func (b *tab) waitFor(limit time.Duration, what, condition string) {
	b.t.Helper()
	deadline := time.Now().Add(limit)
	for !b.holds(condition) {
		if time.Now().After(deadline) {
			b.screenshot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
			require.FailNow(b.t, "waited in vain for "+what,
				"condition %s after %v\nthe page says: %s\nand complains: %q", condition, limit, b.text("body"), b.takeFaults())
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func (b *tab) wait(what, condition string) {
	b.t.Helper()
	b.waitFor(patience, what, condition)
}

// find is script that scrolls to an element where that is needed and returns the
// point to press, or says why a person could not press there.
const find = `((selector) => {
	const e = document.querySelector(selector);
	if (!e) return {why: "there is none"};
	if (e.disabled) return {why: "it is disabled"};
	const middle = () => {
		const r = e.getBoundingClientRect();
		if (r.width === 0 || r.height === 0) return {why: "it is not shown"};
		const x = r.left + r.width / 2, y = r.top + r.height / 2;
		const top = document.elementFromPoint(x, y);
		if (top && [e, ...(e.labels ?? [])].some((part) => part.contains(top))) return {x, y, width: r.width, why: ""};
		return {why: "covered by " + (top ? top.outerHTML.slice(0, 120) : "the edge of the screen")};
	};
	const at = middle();
	if (at.why === "") return at;
	e.scrollIntoView({block: "center", inline: "center", behavior: "instant"});
	return middle();
})`

type spot struct {
	X, Y, Width float64
	Why         string
}

// press clicks the middle of an element, or taps it on a phone. It waits a while
// for the element to become fit to press.
func (b *tab) press(selector string) {
	b.t.Helper()
	at := b.reach(selector)
	b.pressAt(at.X, at.Y)
}

// unfold opens the group that an element is folded away in. What is told of the act
// before may grow under the finger on a phone and take the tap: then it taps again.
func (b *tab) unfold(selector string) {
	b.t.Helper()
	const taps, patience = 3, 2 * time.Second
	folded := fmt.Sprintf("document.querySelector(%q)?.closest('details:not([open])')", selector)
	for range taps {
		group := eval[string](b, folded+"?.dataset.fold ?? ''")
		if group == "" {
			return
		}
		section := eval[string](b, fmt.Sprintf("document.querySelector(%q).closest('section').dataset.section", selector))
		b.press(fmt.Sprintf("[data-section=%q] [data-fold=%q] > summary", section, group))
		for deadline := time.Now().Add(patience); b.holds(folded) && time.Now().Before(deadline); {
			time.Sleep(20 * time.Millisecond)
		}
	}
	require.False(b.t, b.holds(folded), "%s stays folded away", selector)
}

// reach scrolls to an element and returns its middle, once it stands still: what comes to
// a page late moves what is there, and a press would miss it.
func (b *tab) reach(selector string) spot {
	b.t.Helper()
	var was spot
	for deadline := time.Now().Add(patience); ; time.Sleep(20 * time.Millisecond) {
		var at spot
		if b.asked(fmt.Sprintf("%s(%q)", find, selector), &at) && at.Why == "" {
			if at == was {
				return at
			}
			was = at
		}
		if time.Now().After(deadline) {
			b.screenshot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
			require.FailNow(b.t, "cannot press "+selector, "%s\nthe page complains: %q", at.Why, b.takeFaults())
		}
	}
}

func (b *tab) pressAt(x, y float64) {
	b.t.Helper()
	if b.size.phone {
		b.run("tap",
			input.DispatchTouchEvent(input.TouchStart, []*input.TouchPoint{{X: x, Y: y}}),
			input.DispatchTouchEvent(input.TouchEnd, []*input.TouchPoint{}))
		return
	}
	b.run("click",
		input.DispatchMouseEvent(input.MouseMoved, x, y),
		chromedp.MouseClickXY(x, y))
}

// keys types text, or keys from package kb, into what has the focus.
func (b *tab) keys(text string) {
	b.t.Helper()
	b.strike(text, 0)
}

// strike types with other keys held down. A key goes down, gives its character and
// comes up as at a keyboard: a page that takes the first for itself gets no second,
// which is otherwise where chromedp says that a key goes down.
func (b *tab) strike(text string, held input.Modifier) {
	b.t.Helper()
	var keys []chromedp.Action
	for _, r := range text {
		for _, k := range kb.Encode(r) {
			if k.Type == input.KeyDown {
				k.Type = input.KeyRawDown
			}
			k.Modifiers |= held
			keys = append(keys, k)
		}
	}
	b.run("typing", keys...)
}

// slide sets a range input: with a click and the arrow keys, or on a phone with a
// tap at the place of the value.
func (b *tab) slide(selector string, value int) {
	b.t.Helper()
	const most = 200
	now := func() int { return eval[int](b, fmt.Sprintf("document.querySelector(%q).valueAsNumber", selector)) }
	at := b.reach(selector)
	if b.size.phone {
		const thumb = 16 // CSS px: the track ends half a thumb within the box
		at.X += (at.Width - thumb) * eval[float64](b, fmt.Sprintf(
			"((e) => (%d - e.min) / (e.max - e.min) - 0.5)(document.querySelector(%q))", value, selector))
	}
	b.pressAt(at.X, at.Y)
	for presses := 0; !b.size.phone && now() != value; presses++ {
		require.Less(b.t, presses, most, "sliding %s by keys", selector)
		key := kb.ArrowRight
		if now() > value {
			key = kb.ArrowLeft
		}
		b.keys(key)
	}
	require.Equal(b.t, value, now(), selector)
}

// awaitPromise makes an evaluation wait for what it promises.
func awaitPromise(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }
