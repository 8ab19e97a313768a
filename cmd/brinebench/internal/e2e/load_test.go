package e2e

import (
	"net"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

const program = "/brinebench.wasm"

// otherwise is the built page with the program answered by f.
func otherwise(t *testing.T, f func(w http.ResponseWriter, whole *httptest.ResponseRecorder)) http.Handler {
	t.Helper()
	built := site(t)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == program {
			f(w, recorded(built, r))
			return
		}
		built.ServeHTTP(w, r)
	})
}

// A server that knows nothing of WebAssembly names a wrong type.
func TestPageStartsThoughTheServerNamesTheWrongType(t *testing.T) {
	b := open(t, otherwise(t, func(w http.ResponseWriter, whole *httptest.ResponseRecorder) {
		w.Header().Set("Content-Type", "text/plain")
		w.Write(whole.Body.Bytes())
	}), desk)
	b.waitPlayable()
}

// A plain server of files packs nothing and sends no header of ours.
func TestPageStartsFromAPlainServerOfFiles(t *testing.T) {
	site(t)
	b := open(t, http.FileServer(http.Dir(filepath.Join(root, "build/site"))), desk)
	b.waitPlayable()
	b.act("call", "#interview [data-test-at=ask-noise]")
}

// TestPageTellsHowFarItHasCome holds the program back in the middle: the bar has
// to stand at the share of the plain bytes, though the server packs them.
func TestPageTellsHowFarItHasCome(t *testing.T) {
	built := site(t)
	proceed, once := make(chan bool), sync.Once{}
	goOn := func() { once.Do(func() { close(proceed) }) }
	defer goOn()
	b := open(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != program {
			built.ServeHTTP(w, r)
			return
		}
		packed := httptest.NewRecorder()
		built.ServeHTTP(packed, r)
		for name, values := range packed.Header() {
			w.Header()[name] = values
		}
		half := packed.Body.Len() / 2
		w.Write(packed.Body.Bytes()[:half])
		w.(http.Flusher).Flush()
		<-proceed
		w.Write(packed.Body.Bytes()[half:])
	}), desk)
	b.wait("the bar", "document.querySelector('#loading-bar').value > 0.3") // what has been sent comes bit by bit
	require.InDelta(t, 0.5, eval[float64](b, "document.querySelector('#loading-bar').value"), 0.2)
	require.Regexp(t, `\d+\.\d of \d\d\.\d MB`, b.text("#loading-text"))
	require.Regexp(t, "25|50", eval[string](b, "document.querySelector('#loading-aloud').textContent"))
	b.screenshot("loading")
	goOn()
	b.waitPlayable()
}

func TestPageSaysThatTheProgramIsDamaged(t *testing.T) {
	b := open(t, otherwise(t, func(w http.ResponseWriter, whole *httptest.ResponseRecorder) {
		w.Header().Set("Content-Type", whole.Header().Get("Content-Type"))
		data := whole.Body.Bytes()
		clear(data[len(data)/2:])
		w.Write(data)
	}), desk)
	requireMessage(b, "damaged")
	b.screenshot("damaged")
}

func TestPageSaysThatTheProgramIsMissing(t *testing.T) {
	b := open(t, otherwise(t, func(w http.ResponseWriter, _ *httptest.ResponseRecorder) {
		http.Error(w, "no such file", http.StatusNotFound)
	}), desk)
	requireMessage(b, "could not be fetched.*server does not have it")
}

// The connection breaks in the middle.
func TestPageSaysThatTheProgramDidNotComeWhole(t *testing.T) {
	b := open(t, otherwise(t, func(w http.ResponseWriter, whole *httptest.ResponseRecorder) {
		w.Header().Set("Content-Length", whole.Header().Get("Content-Length"))
		w.Write(whole.Body.Bytes()[:whole.Body.Len()/2])
		conn, _, err := w.(http.Hijacker).Hijack()
		if err == nil {
			conn.(*net.TCPConn).SetLinger(0)
			conn.Close()
		}
	}), desk)
	requireMessage(b, "did not come whole.*connection")
}

// withScript is the built page with a script before all others.
func withScript(t *testing.T, script string) http.Handler {
	t.Helper()
	built := site(t)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/boot.js" {
			built.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/javascript")
		w.Write([]byte(script))
		w.Write(recorded(built, r).Body.Bytes())
	})
}

func TestPageSaysWhatABrowserLacks(t *testing.T) {
	for name, row := range map[string]struct{ script, words string }{
		"no WebAssembly": {"delete globalThis.WebAssembly;", "too old.*WebAssembly"},
		"no memory":      {"WebAssembly.instantiate = async () => { throw new RangeError('WebAssembly.Memory(): could not allocate memory'); };", "not enough memory.*Close other"},
	} {
		t.Run(name, func(t *testing.T) {
			requireMessage(open(t, withScript(t, row.script), desk), row.words)
		})
	}
}
