package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"
)

var program = bytes.Repeat([]byte("\x00asm"), 5000)

func testSite(t *testing.T) *Site {
	site, err := Load(fstest.MapFS{
		"index.html":      {Data: []byte("<!doctype html>")},
		"brinebench.wasm": {Data: program},
		"sub/boot.js":     {Data: []byte(strings.Repeat("let a = 1;\n", 100))},
	})
	require.NoError(t, err)
	return site
}

func get(h http.Handler, method, path string, header ...string) *http.Response {
	request := httptest.NewRequest(method, "http://localhost/", nil)
	request.URL.Path = path // as it is: a test of traversal must not be cleaned here
	for i := 0; i < len(header); i += 2 {
		request.Header.Set(header[i], header[i+1])
	}
	recorder := httptest.NewRecorder()
	h.ServeHTTP(recorder, request)
	return recorder.Result()
}

func body(t *testing.T, response *http.Response) []byte {
	data, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	return data
}

func TestSiteServesEachKindUnderItsType(t *testing.T) {
	site := testSite(t)
	for path, want := range map[string]string{
		"/":                "text/html; charset=utf-8",
		"/index.html":      "text/html; charset=utf-8",
		"/brinebench.wasm": "application/wasm",
		"/sub/boot.js":     "text/javascript; charset=utf-8",
	} {
		response := get(site, "GET", path)
		require.Equal(t, http.StatusOK, response.StatusCode, path)
		require.Equal(t, want, response.Header.Get("Content-Type"), path)
	}
}

// packedSite is testSite as the build packs it.
func packedSite(t *testing.T) *Site {
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	write("index.html", "<!doctype html>")
	write("brinebench.wasm", string(program))
	require.NoError(t, Pack(dir))
	site, err := Load(os.DirFS(dir))
	require.NoError(t, err)
	return site
}

func unpack(t *testing.T, coding string, packed []byte) []byte {
	var reader io.Reader = bytes.NewReader(packed)
	switch coding {
	case "gzip":
		unzipped, err := gzip.NewReader(reader)
		require.NoError(t, err)
		reader = unzipped
	case "br":
		reader = brotli.NewReader(reader)
	}
	plain, err := io.ReadAll(reader)
	require.NoError(t, err)
	return plain
}

// Codings and their weights after RFC 9110, 12.5.3.
func TestSitePacksForThoseWhoAskForIt(t *testing.T) {
	tests := []struct {
		accept           string
		packed, unpacked string // coding served where the build has packed, and where it has not
	}{
		{"", "", ""},
		{"gzip", "gzip", "gzip"},
		{"gzip, deflate, br, zstd", "br", "gzip"},
		{"br;q=1.0, gzip;q=0.5", "br", "gzip"},
		{"br;q=0.5, gzip", "gzip", "gzip"},
		{"br", "br", ""},
		{"*", "br", "gzip"},
		{"*;q=0.1, br;q=0", "gzip", "gzip"},
		{"gzip;q=0, *;q=0", "", ""},
		{"gzip;q=0", "", ""},
		{"gzip; q=0.000", "", ""},
		{"gzip;q=much", "", ""},
		{"identity", "", ""},
		{"xgzip", "", ""},
	}
	packed, unpacked := packedSite(t), testSite(t)
	for _, test := range tests {
		t.Run(test.accept, func(t *testing.T) {
			for site, coding := range map[*Site]string{packed: test.packed, unpacked: test.unpacked} {
				response := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", test.accept)
				got := body(t, response)
				require.Equal(t, coding, response.Header.Get("Content-Encoding"))
				require.Equal(t, strconv.Itoa(len(got)), response.Header.Get("Content-Length"))
				require.Equal(t, "Accept-Encoding", response.Header.Get("Vary"))
				require.Equal(t, "application/wasm", response.Header.Get("Content-Type"))
				require.Equal(t, coding != "", len(got) < len(program))
				require.Equal(t, program, unpack(t, coding, got))
			}
		})
	}
}

func TestSiteServesNoPackedFileByItself(t *testing.T) {
	site := packedSite(t)
	for _, path := range []string{"/brinebench.wasm.br", "/brinebench.wasm.gz"} {
		require.Equal(t, http.StatusNotFound, get(site, "GET", path).StatusCode)
	}
}

func TestPackTellsThePlainSizes(t *testing.T) {
	response := get(packedSite(t), "GET", "/sizes.json")
	require.Equal(t, "application/json", response.Header.Get("Content-Type"))
	require.JSONEq(t, fmt.Sprintf(`{"brinebench.wasm": %d}`, len(program)), string(body(t, response)))
}

// A page may be built again without being packed: what lies packed is then of
// another build.
func TestSitePassesOverWhatIsPackedOfAnOlderBuild(t *testing.T) {
	now := time.Now()
	site, err := Load(fstest.MapFS{
		"index.html":         {Data: []byte("<!doctype html>")},
		"brinebench.wasm":    {Data: program, ModTime: now},
		"brinebench.wasm.br": {Data: []byte("old"), ModTime: now.Add(-time.Second)},
		"brinebench.wasm.gz": {Data: []byte("old"), ModTime: now.Add(-time.Second)},
	})
	require.NoError(t, err)
	response := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", "br, gzip")
	require.Equal(t, "gzip", response.Header.Get("Content-Encoding"))
	require.Equal(t, program, unpack(t, "gzip", body(t, response)))
}

func TestPackLeavesWhatIsPackedAlready(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "brinebench.wasm")
	require.NoError(t, os.WriteFile(file, program, 0o644))
	require.NoError(t, Pack(dir))
	require.NoError(t, os.WriteFile(file+".br", []byte("as it is"), 0o644))
	require.NoError(t, Pack(dir))
	kept, err := os.ReadFile(file + ".br")
	require.NoError(t, err)
	require.Equal(t, "as it is", string(kept))

	later := time.Now().Add(time.Hour)
	require.NoError(t, os.Chtimes(file, later, later))
	require.NoError(t, Pack(dir))
	anew, err := os.ReadFile(file + ".br")
	require.NoError(t, err)
	require.Equal(t, program, unpack(t, "br", anew))
}

// Ranges after RFC 9110, 14: of the form that is served.
func TestSiteServesRanges(t *testing.T) {
	site := packedSite(t)
	for _, accept := range []string{"", "gzip", "br"} {
		whole := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept)
		want, etag := body(t, whole), whole.Header.Get("ETag")
		part := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "Range", "bytes=5-14", "If-Range", etag)
		require.Equal(t, http.StatusPartialContent, part.StatusCode)
		require.Equal(t, fmt.Sprintf("bytes 5-14/%d", len(want)), part.Header.Get("Content-Range"))
		require.Equal(t, "10", part.Header.Get("Content-Length"))
		require.Equal(t, whole.Header.Get("Content-Encoding"), part.Header.Get("Content-Encoding"))
		require.Equal(t, want[5:15], body(t, part))

		other := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "Range", "bytes=5-14", "If-Range", `"other"`)
		require.Equal(t, http.StatusOK, other.StatusCode)
		require.Equal(t, want, body(t, other))
		beyond := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "Range", "bytes=999999-")
		require.Equal(t, http.StatusRequestedRangeNotSatisfiable, beyond.StatusCode)
		require.Empty(t, beyond.Header.Get("Content-Encoding"))
	}
}

func TestSiteLeavesAloneWhatDoesNotShrink(t *testing.T) {
	response := get(testSite(t), "GET", "/", "Accept-Encoding", "gzip")
	require.Empty(t, response.Header.Get("Content-Encoding"))
	require.Equal(t, "<!doctype html>", string(body(t, response)))
}

func TestSiteSparesABrowserWhatItHas(t *testing.T) {
	site := packedSite(t)
	for _, accept := range []string{"", "gzip", "br"} {
		first := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept)
		etag := first.Header.Get("ETag")
		require.Equal(t, "no-cache", first.Header.Get("Cache-Control"))
		for _, held := range []string{etag, "W/" + etag, `"other", ` + etag, "*"} {
			again := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "If-None-Match", held)
			require.Equal(t, http.StatusNotModified, again.StatusCode, held)
			require.Empty(t, body(t, again))
			for _, name := range []string{"Content-Encoding", "Content-Length", "Content-Type"} {
				require.Empty(t, again.Header.Get(name), name)
			}
			require.Equal(t, "Accept-Encoding", again.Header.Get("Vary"))
			require.Equal(t, etag, again.Header.Get("ETag"))
		}
		stale := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "If-None-Match", `"stale"`)
		require.Equal(t, http.StatusOK, stale.StatusCode)
	}
	tags := map[string]bool{}
	for _, accept := range []string{"", "gzip", "br"} {
		tags[get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept).Header.Get("ETag")] = true
	}
	require.Len(t, tags, 3, "each form is told from the others")
}

func TestSiteKeepsToItself(t *testing.T) {
	site := testSite(t)
	for _, path := range []string{
		"/../serve.go", "/sub/../../serve.go", "/sub", "/sub/", "//index.html", "", "/index.html/",
		"/..\\serve.go", "/missing.js", "/index.html\x00",
	} {
		response := get(site, "GET", path)
		require.Equal(t, http.StatusNotFound, response.StatusCode, path)
	}
	for _, path := range []string{"/", "/missing.js"} {
		header := get(site, "GET", path).Header
		csp := header.Get("Content-Security-Policy")
		require.Contains(t, csp, "'wasm-unsafe-eval'")
		require.NotContains(t, csp, "'unsafe-eval'")
		require.NotContains(t, csp, "'unsafe-inline'")
		require.Equal(t, "nosniff", header.Get("X-Content-Type-Options"))
	}
}

func TestSiteOnlyReads(t *testing.T) {
	site := testSite(t)
	response := get(site, "POST", "/")
	require.Equal(t, http.StatusMethodNotAllowed, response.StatusCode)
	require.Equal(t, "GET, HEAD", response.Header.Get("Allow"))

	packed := packedSite(t)
	for _, accept := range []string{"", "gzip", "br"} {
		head := get(packed, "HEAD", "/brinebench.wasm", "Accept-Encoding", accept)
		whole := get(packed, "GET", "/brinebench.wasm", "Accept-Encoding", accept)
		require.Equal(t, whole.Header, head.Header)
		require.Equal(t, strconv.Itoa(len(body(t, whole))), head.Header.Get("Content-Length"))
		require.Empty(t, body(t, head))
	}
}

func TestLoadRefusesWhatIsNoSite(t *testing.T) {
	_, err := Load(fstest.MapFS{"boot.js": {}})
	require.ErrorContains(t, err, "no index.html")
	_, err = Load(fstest.MapFS{"index.html": {}, "a.exe": {}, "b": {}})
	require.ErrorContains(t, err, "a.exe, b")
}
