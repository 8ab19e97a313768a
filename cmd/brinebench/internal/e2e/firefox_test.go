package e2e

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http/httptest"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/gobwas/ws"
	"github.com/gobwas/ws/wsutil"
	"github.com/stretchr/testify/require"
)

// firefox is one tab of a Firefox without WebGL, which is steered by the commands of
// the W3C's WebDriver BiDi.
type firefox struct {
	t       testing.TB
	socket  net.Conn
	address string // of the server
	tab     string
	asked   int
	faults  []string // uncaught exceptions and console errors
}

// openFirefox starts a Firefox with a storage of its own.
func openFirefox(t testing.TB) *firefox {
	t.Helper()
	server := httptest.NewServer(site(t))
	t.Cleanup(server.Close)
	b := &firefox{t: t, address: server.URL}
	b.dial(startFirefox(t))
	b.ask("session.new", map[string]any{"capabilities": map[string]any{}}, nil)
	b.ask("session.subscribe", map[string]any{"events": []string{"log.entryAdded"}}, nil)
	var tree struct{ Contexts []struct{ Context string } }
	b.ask("browsingContext.getTree", map[string]any{}, &tree)
	require.Len(t, tree.Contexts, 1)
	b.tab = tree.Contexts[0].Context
	t.Cleanup(func() {
		for _, fault := range b.faults {
			t.Errorf("the page complained: %s", fault)
		}
	})
	return b
}

// startFirefox returns where the started Firefox listens.
func startFirefox(t testing.TB) (url string) {
	t.Helper()
	ctx, quit := context.WithCancel(context.Background())
	run := exec.CommandContext(ctx, "firefox-esr", "--headless", "--no-remote", "--profile", t.TempDir(),
		"--width", "1440", "--height", "900", "--remote-debugging-port", "0", "about:blank")
	said, err := run.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, run.Start(), "make test installs Firefox")
	t.Cleanup(func() { quit(); _ = run.Wait() })
	defer time.AfterFunc(startPatience, quit).Stop()
	lines := bufio.NewScanner(said)
	for lines.Scan() {
		if _, url, found := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); found {
			go func() { _, _ = io.Copy(io.Discard, said) }()
			return url + "/session"
		}
	}
	require.Fail(t, "Firefox ended before it listened")
	return ""
}

func (b *firefox) dial(url string) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), startPatience)
	defer cancel()
	socket, _, _, err := ws.Dial(ctx, url)
	require.NoError(b.t, err)
	b.socket = socket
	b.t.Cleanup(func() { _ = socket.Close() })
}

// told is what Firefox says: the answer to a command, or an event.
type told struct {
	ID      int
	Error   string
	Message string
	Result  json.RawMessage
	Method  string
	Params  struct{ Level, Text string }
}

// ask carries out one command. An answer that does not come fails the test: the page,
// or the browser with it, hangs.
func (b *firefox) ask(method string, params, result any) {
	b.t.Helper()
	b.asked++
	command, err := json.Marshal(map[string]any{"id": b.asked, "method": method, "params": params})
	require.NoError(b.t, err)
	require.NoError(b.t, b.socket.SetDeadline(time.Now().Add(startPatience)))
	require.NoError(b.t, wsutil.WriteClientText(b.socket, command), method)
	for {
		data, err := wsutil.ReadServerText(b.socket)
		require.NoError(b.t, err, "%s was not answered", method)
		var a told
		require.NoError(b.t, json.Unmarshal(data, &a))
		if a.Method == "log.entryAdded" && a.Params.Level == "error" {
			b.faults = append(b.faults, a.Params.Text)
		}
		if a.ID != b.asked {
			continue
		}
		require.Empty(b.t, a.Error, "%s: %s", method, a.Message)
		if result != nil {
			require.NoError(b.t, json.Unmarshal(a.Result, result))
		}
		return
	}
}

// visit opens a page and waits until it can be used.
func (b *firefox) visit(page string) {
	b.t.Helper()
	b.ask("browsingContext.navigate", map[string]any{"context": b.tab, "url": b.address + page, "wait": "complete"}, nil)
	b.wait("the start of "+page, `["ready", "failed"].includes(document.documentElement.dataset.state)`)
	require.Empty(b.t, b.words(`document.getElementById("failure-title").textContent + document.getElementById("failure-details").textContent`))
}

// words returns what a JavaScript expression gives, a string.
func (b *firefox) words(expression string) string {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value any }
		ExceptionDetails struct{ Text string }
	}
	b.ask("script.evaluate", map[string]any{
		"expression": "String(" + expression + ")", "target": map[string]any{"context": b.tab}, "awaitPromise": true,
	}, &answer)
	require.Empty(b.t, answer.ExceptionDetails.Text, expression)
	return fmt.Sprint(answer.Result.Value)
}

func (b *firefox) wait(what, condition string) {
	b.t.Helper()
	end := time.Now().Add(startPatience)
	for b.words(condition) != "true" {
		require.True(b.t, time.Now().Before(end), "%s did not come", what)
		time.Sleep(100 * time.Millisecond)
	}
}

func (b *firefox) press(selector string) {
	b.t.Helper()
	b.words(fmt.Sprintf("document.querySelector(%q).click()", selector))
}

// TestFirefoxWorksACall needs no drawing: this Firefox has no WebGL.
func TestFirefoxWorksACall(t *testing.T) {
	b := openFirefox(t)
	b.visit("/?lang=en")
	require.NotEqual(t, "null", b.words(`document.getElementById("no-picture")`), "the page tells that there is no drawing")
	const station = `document.getElementById("time-station").textContent`
	require.Contains(t, b.words(station), "Service")
	b.press("[data-act=start-regeneration]")
	b.press(`[data-pace="60"]`)
	b.wait("the backwash", station+`.includes("Backwash")`)
	b.visit("/?lang=en")
	require.Contains(t, b.words(station), "Backwash", "the call goes on where it was left")
}

func TestFirefoxOpensEveryPage(t *testing.T) {
	b := openFirefox(t)
	for _, page := range []string{"bench", "sequence", "sizing", "cards"} {
		b.visit("/" + page + ".html?lang=en")
	}
}
