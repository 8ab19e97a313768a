package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// storedProgress is a record with a play of each of two calls, both long due. The
// other one was played last, so that the one on the page is next.
const storedProgress = `{"format":"brinebench-progress-1","plays":[` +
	`{"call":"hard-water-at-the-mill-house","seed":"1","hash":"00000000000000ff","started_s":1000,"ended_s":2000,` +
	`"score":95,"economy":1,"minutes":30,"hints":0,"shown":false,"true":[]},` +
	`{"call":"salt-in-the-tea-at-the-tollhouse","seed":"1","hash":"00000000000000ff","started_s":3000,"ended_s":4000,` +
	`"score":40,"economy":0.2,"minutes":30,"hints":0,"shown":false,"true":[]}]}`

// keepProgress puts a record where the page keeps it and loads the page again.
func (b *tab) keepProgress(record string) {
	b.t.Helper()
	eval[string](b, fmt.Sprintf("localStorage['brinebench.progress'] = %q", record))
	b.run("loading the page again", chromedp.Reload())
	b.waitPlayable()
	b.show("practice")
}

func TestPracticeKeepsProgress(t *testing.T) {
	b := openPlayable(t, phone)
	b.show("practice")
	require.Regexp(t, "new to you", b.text("#practice-next"))
	require.Contains(t, b.text("#practice-kept"), "0 plays")

	b.keepProgress(storedProgress)
	require.Regexp(t, "due for a refresher", b.text("#practice-next"))
	require.Regexp(t, "(?s)Due now.*best 95, played once", b.text("#practice li[data-standing=due]"))
	b.screenshot("practice")
	b.press("[data-act=progress-forget]")
	b.press("[data-act=progress-forget-no]")
	require.Contains(t, b.text("#practice-kept"), "2 plays")
	b.press("[data-act=progress-forget]")
	b.press("[data-act=progress-forget-yes]")
	require.Contains(t, b.text("#practice-kept"), "0 plays")

	b.keepProgress("{}")
	require.Contains(t, b.text("#practice-trouble"), "damaged")
	require.Equal(t, "{}", eval[string](b, "localStorage['brinebench.progress.damaged']"))
}
