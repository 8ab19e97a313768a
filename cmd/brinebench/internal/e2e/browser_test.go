// Package e2e works the built page in a real Chromium, and a little in Firefox, as a
// person would: with the mouse or a finger at the middle of what is to be pressed, and
// with keys. Any uncaught exception or console error fails the test it happens in.
package e2e

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"brinebench/cmd/brinebench/internal/web"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

const (
	root = "../../../.."
	// switchedOn is the environment variable that make test sets. Without it
	// these tests are skipped, since they need Chromium and a fresh build.
	switchedOn = "BRINEBENCH_FULL"
	// patience is for what the page does at once on a free machine; a loaded
	// one with two cores and no graphics card may take far longer.
	patience = 30 * time.Second
	// startPatience is for compiling and starting the program.
	startPatience = 2 * time.Minute
)

// size is a viewport in CSS pixels. A phone is touched and not clicked.
type size struct {
	width, height int64
	phone         bool
}

var (
	desk  = size{width: 1440, height: 900}
	small = size{width: 1024, height: 768}
	phone = size{width: 390, height: 844, phone: true}
)

// noGraphics takes WebGL away from Chromium.
var noGraphics = []chromedp.ExecAllocatorOption{
	chromedp.Flag("disable-3d-apis", true),
}

// tab is one tab with a storage of its own.
type tab struct {
	t    testing.TB
	ctx  context.Context
	size size

	mu     sync.Mutex
	faults []string // uncaught exceptions and console errors
}

// site is the built page as make run serves it.
func site(t testing.TB) http.Handler {
	t.Helper()
	if os.Getenv(switchedOn) == "" {
		t.Skip("skipped: make test runs this, with Chromium and a fresh build of the page")
	}
	built, err := web.Load(os.DirFS(filepath.Join(root, "build/site")))
	require.NoError(t, err, "make test builds the page first")
	return built
}

// open starts Chromium and loads the page from handler. Faults of the page fail
// the test at its end, unless it takes them with takeFaults.
func open(t testing.TB, handler http.Handler, s size, options ...chromedp.ExecAllocatorOption) *tab {
	t.Helper()
	return openAt(t, handler, "", s, options...)
}

func openAt(t testing.TB, handler http.Handler, address string, s size, options ...chromedp.ExecAllocatorOption) *tab {
	t.Helper()
	server := httptest.NewServer(handler)
	t.Cleanup(server.Close)
	return openURL(t, server.URL+address, s, options...)
}

// openURL loads a page from a server that runs already.
func openURL(t testing.TB, url string, s size, options ...chromedp.ExecAllocatorOption) *tab {
	t.Helper()
	chromium, err := shared()
	if options != nil {
		var quit context.CancelFunc
		chromium, quit, err = launch(options...)
		t.Cleanup(quit)
	}
	require.NoError(t, err)
	ctx, closeTab := chromedp.NewContext(chromium, chromedp.WithTargetID(private(t, chromium)))
	t.Cleanup(closeTab)

	b := &tab{t: t, ctx: ctx}
	chromedp.ListenTarget(ctx, b.hear)
	b.resize(s)
	switch t.(type) {
	case *testing.B, fullBeat:
	default:
		b.run("a slower beat", chromedp.ActionFunc(func(ctx context.Context) error {
			_, err := page.AddScriptToEvaluateOnNewDocument(slowBeat).Do(ctx)
			return err
		}))
	}
	t.Cleanup(b.reportFaults)
	b.run("opening the page", chromedp.Navigate(url))
	return b
}

// fullBeat is a test whose page draws as often as it can, as all do that are measured.
type fullBeat struct{ testing.TB }

// slowBeat has the page draw five times a second: without a graphics card the
// processor draws, which else has little time for anything but frames.
const slowBeat = `{
	const ask = requestAnimationFrame, beatMS = 200;
	let last = 0;
	globalThis.requestAnimationFrame = (f) => {
		const drawn = (t) => { last = performance.now(); f(t); };
		setTimeout(() => ask(drawn), Math.max(0, last + beatMS - performance.now()));
		return 0;
	};
}`

// private opens a private window, whose storage is empty and goes with it.
func private(t testing.TB, chromium context.Context) target.ID {
	t.Helper()
	browser := cdp.WithExecutor(chromium, chromedp.FromContext(chromium).Browser)
	of, err := target.CreateBrowserContext().Do(browser)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, target.DisposeBrowserContext(of).Do(browser)) })
	tab, err := target.CreateTarget("about:blank").WithBrowserContextID(of).WithNewWindow(true).Do(browser)
	require.NoError(t, err)
	return tab
}

// shared is the Chromium of all tests that ask for no other: each has a context in
// it of its own, as a private window is.
var shared = sync.OnceValues(func() (context.Context, error) {
	chromium, quit, err := launch()
	quitShared = quit
	return chromium, err
})

var quitShared = func() {}

func TestMain(m *testing.M) {
	code := m.Run()
	quitShared()
	os.Exit(code)
}

// launch starts a Chromium. One that falls over at its start, as some do on a
// virtual machine, gets two more chances.
func launch(options ...chromedp.ExecAllocatorOption) (chromium context.Context, quit context.CancelFunc, err error) {
	options = append([]chromedp.ExecAllocatorOption{
		chromedp.Flag("headless", "new"),
		chromedp.Flag("lang", "en-US"),
		chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"),
		chromedp.Flag("enable-unsafe-swiftshader", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.NoSandbox,
		chromedp.NoFirstRun,
		chromedp.WindowSize(int(desk.width), int(desk.height)),
		chromedp.WSURLReadTimeout(startPatience),
	}, options...)
	for range 3 {
		allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, end := chromedp.NewContext(allocator)
		if err = chromedp.Run(ctx); err == nil {
			return ctx, func() { end(); stop() }, nil
		}
		end()
		stop()
	}
	return nil, func() {}, err
}

// openPlayable opens the page and waits until it can be used.
func openPlayable(t testing.TB, s size) *tab {
	t.Helper()
	b := open(t, site(t), s)
	b.waitPlayable()
	return b
}

// openCall opens a call of the library.
func openCall(t testing.TB, id string, s size) *tab {
	t.Helper()
	b := openAt(t, site(t), "/?call="+id, s)
	b.waitPlayable()
	return b
}

func (b *tab) waitPlayable() {
	b.t.Helper()
	b.waitFor(startPatience, "the start", "globalThis.brinebenchDrawn || document.documentElement.dataset.state === 'failed'")
	require.Empty(b.t, b.text("#failure-title"), "%s %q", b.text("#failure"), b.takeFaults())
	b.wait("panels filled", "globalThis.brinebenchReady")
}

// hear keeps what the page complains of.
func (b *tab) hear(event any) {
	var fault string
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		fault = "uncaught: " + e.ExceptionDetails.Error()
	case *runtime.EventConsoleAPICalled:
		if e.Type != runtime.APITypeError && e.Type != runtime.APITypeAssert {
			return
		}
		var said []string
		for _, arg := range e.Args {
			said = append(said, string(arg.Value)+arg.Description)
		}
		fault = "console: " + strings.Join(said, " ")
	case *log.EventEntryAdded:
		if e.Entry.Level != log.LevelError {
			return
		}
		fault = "log: " + e.Entry.Text + " " + e.Entry.URL
	default:
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.faults = append(b.faults, fault)
}

// takeFaults returns the faults so far and forgets them.
func (b *tab) takeFaults() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	taken := b.faults
	b.faults = nil
	return taken
}

func (b *tab) reportFaults() {
	for _, fault := range b.takeFaults() {
		b.t.Errorf("the page complained: %s", fault)
	}
}

// run carries out browser actions; what they are for goes into a failure.
func (b *tab) run(what string, actions ...chromedp.Action) {
	b.t.Helper()
	require.NoError(b.t, b.try(actions...), what)
}

// try carries out browser actions that may fail.
func (b *tab) try(actions ...chromedp.Action) error {
	ctx, cancel := b.ctx, context.CancelFunc(func() {})
	if chromedp.FromContext(b.ctx).Target != nil { // the first run starts the browser and must not end it
		ctx, cancel = context.WithTimeout(b.ctx, startPatience)
	}
	defer cancel()
	return chromedp.Run(ctx, actions...)
}

// resize gives the page another viewport, as turning or swapping a screen does.
func (b *tab) resize(s size) {
	b.t.Helper()
	b.size = s
	b.run("viewport",
		emulation.SetDeviceMetricsOverride(s.width, s.height, 1, s.phone),
		emulation.SetTouchEmulationEnabled(s.phone))
}

// screenshot writes build/screenshots/NAME-WxH.png.
func (b *tab) screenshot(name string) {
	b.t.Helper()
	var png []byte
	b.run("screenshot", chromedp.ActionFunc(func(ctx context.Context) (err error) {
		png, err = page.CaptureScreenshot().Do(ctx)
		return err
	}))
	dir := filepath.Join(root, "build/screenshots")
	require.NoError(b.t, os.MkdirAll(dir, 0o755))
	file := fmt.Sprintf("%s-%dx%d.png", name, b.size.width, b.size.height)
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, file), png, 0o644))
}
