package web

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

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

func TestSiteCompressesForThoseWhoAskForIt(t *testing.T) {
	site := testSite(t)
	tests := []struct {
		accept string
		gzip   bool
	}{
		{"", false},
		{"gzip", true},
		{"gzip, deflate, br, zstd", true},
		{"br, gzip;q=0.5", true},
		{"gzip;q=0", false},
		{"gzip; q=0.000", false},
		{"gzip;q=much", false},
		{"br", false},
		{"xgzip", false},
	}
	for _, test := range tests {
		t.Run(test.accept, func(t *testing.T) {
			response := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", test.accept)
			got := body(t, response)
			require.Equal(t, response.Header.Get("Content-Length"), strconv.Itoa(len(got)))
			require.Equal(t, "Accept-Encoding", response.Header.Get("Vary"))
			if !test.gzip {
				require.Empty(t, response.Header.Get("Content-Encoding"))
				require.Equal(t, program, got)
				return
			}
			require.Equal(t, "gzip", response.Header.Get("Content-Encoding"))
			require.Less(t, len(got), len(program))
			reader, err := gzip.NewReader(bytes.NewReader(got))
			require.NoError(t, err)
			plain, err := io.ReadAll(reader)
			require.NoError(t, err)
			require.Equal(t, program, plain)
		})
	}
}

func TestSiteLeavesAloneWhatDoesNotShrink(t *testing.T) {
	response := get(testSite(t), "GET", "/", "Accept-Encoding", "gzip")
	require.Empty(t, response.Header.Get("Content-Encoding"))
	require.Equal(t, "<!doctype html>", string(body(t, response)))
}

func TestSiteSparesABrowserWhatItHas(t *testing.T) {
	site := testSite(t)
	for _, accept := range []string{"", "gzip"} {
		first := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept)
		etag := first.Header.Get("ETag")
		require.Equal(t, "no-cache", first.Header.Get("Cache-Control"))
		for _, held := range []string{etag, "W/" + etag, `"other", ` + etag, "*"} {
			again := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "If-None-Match", held)
			require.Equal(t, http.StatusNotModified, again.StatusCode, held)
			require.Empty(t, body(t, again))
			require.Equal(t, etag, again.Header.Get("ETag"))
		}
		stale := get(site, "GET", "/brinebench.wasm", "Accept-Encoding", accept, "If-None-Match", `"stale"`)
		require.Equal(t, http.StatusOK, stale.StatusCode)
	}
	plain, packed := get(site, "GET", "/brinebench.wasm"), get(site, "GET", "/brinebench.wasm", "Accept-Encoding", "gzip")
	require.NotEqual(t, plain.Header.Get("ETag"), packed.Header.Get("ETag"))
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

	head := get(site, "HEAD", "/brinebench.wasm")
	require.Equal(t, strconv.Itoa(len(program)), head.Header.Get("Content-Length"))
	require.Empty(t, body(t, head))
}

func TestLoadRefusesWhatIsNoSite(t *testing.T) {
	_, err := Load(fstest.MapFS{"boot.js": {}})
	require.ErrorContains(t, err, "no index.html")
	_, err = Load(fstest.MapFS{"index.html": {}, "a.exe": {}, "b": {}})
	require.ErrorContains(t, err, "a.exe, b")
}
