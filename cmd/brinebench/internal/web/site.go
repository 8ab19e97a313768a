// Package web serves the built page to browsers on this machine or in the
// classroom: files held in memory, compressed once, with caching and security
// headers. It has no state and knows nothing of softeners.
package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
)

// contentTypes are spelled out, since the tables of the operating system differ
// and WebAssembly streams only under its own type. A file of another kind is
// not part of a site.
var contentTypes = map[string]string{
	".css":  "text/css; charset=utf-8",
	".html": "text/html; charset=utf-8",
	".ico":  "image/x-icon",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json",
	".png":  "image/png",
	".svg":  "image/svg+xml",
	".txt":  "text/plain; charset=utf-8",
	".wasm": "application/wasm",
}

// securityHeaders keep the page to its own origin. The program is WebAssembly
// and sets styles from script, which needs no more than this.
var securityHeaders = map[string]string{
	"Content-Security-Policy": "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
		"img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; " +
		"base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Referrer-Policy":              "no-referrer",
	"X-Content-Type-Options":       "nosniff",
}

// Site is the content of a site, by URL path. It is an http.Handler.
type Site struct {
	files map[string]*file
}

type file struct {
	contentType string
	body        []byte
	etag        string        // hash of body, without quotes
	gzipped     func() []byte // made at the first request for it; nil when not smaller
}

// Load reads a whole site into memory. It wants an index.html at the top and
// reports every file whose kind it does not know.
func Load(fsys fs.FS) (*Site, error) {
	site := &Site{files: map[string]*file{}}
	var unknown []string
	err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		contentType, ok := contentTypes[path.Ext(name)]
		if !ok {
			unknown = append(unknown, name)
			return nil
		}
		body, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		site.files["/"+name] = newFile(contentType, body)
		return nil
	})
	switch {
	case err != nil:
		return nil, fmt.Errorf("reading the site: %w", err)
	case unknown != nil:
		return nil, fmt.Errorf("site: files of unknown kind: %s", strings.Join(unknown, ", "))
	case site.files["/index.html"] == nil:
		return nil, fmt.Errorf("site: no index.html")
	}
	site.files["/"] = site.files["/index.html"]
	return site, nil
}

func newFile(contentType string, body []byte) *file {
	hash := sha256.Sum256(body)
	return &file{
		contentType: contentType,
		body:        body,
		etag:        hex.EncodeToString(hash[:12]),
		gzipped:     sync.OnceValue(func() []byte { return compress(body) }),
	}
}

// compress returns body under gzip, or nil where that would not make it smaller.
// Brotli would be 16 % smaller for WebAssembly, but browsers ask for it on
// secure origins only, which a classroom's network is not.
func compress(body []byte) []byte {
	var out bytes.Buffer
	writer := gzip.NewWriter(&out)
	writer.Write(body) // into memory: cannot fail
	writer.Close()
	if out.Len() >= len(body) {
		return nil
	}
	return out.Bytes()
}

// ServeHTTP answers GET and HEAD. A browser may keep what it got, and asks each
// time whether it is still good.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	header := w.Header()
	for name, value := range securityHeaders {
		header.Set(name, value)
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		header.Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD are served", http.StatusMethodNotAllowed)
		return
	}
	f := s.files[r.URL.Path]
	if f == nil {
		http.Error(w, "no such page", http.StatusNotFound)
		return
	}
	f.serve(w, r)
}

func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	header := w.Header()
	body, etag := f.body, f.etag
	if acceptsGzip(r) {
		if small := f.gzipped(); small != nil {
			body, etag = small, etag+"-gzip"
			header.Set("Content-Encoding", "gzip")
		}
	}
	etag = strconv.Quote(etag)
	header.Set("Vary", "Accept-Encoding")
	header.Set("Cache-Control", "no-cache")
	header.Set("ETag", etag)
	header.Set("Content-Type", f.contentType)
	if matches(r.Header.Get("If-None-Match"), etag) {
		header.Del("Content-Encoding")
		w.WriteHeader(http.StatusNotModified)
		return
	}
	header.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method == http.MethodGet {
		w.Write(body) // the client may be gone: nobody to tell
	}
}

// acceptsGzip reads Accept-Encoding. A refusal by weight ("gzip;q=0") counts.
func acceptsGzip(r *http.Request) bool {
	for encoding := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(encoding), ";")
		if strings.TrimSpace(name) != "gzip" {
			continue
		}
		value, given := strings.CutPrefix(strings.TrimSpace(weight), "q=")
		q, err := strconv.ParseFloat(value, 64)
		return !given || (err == nil && q > 0)
	}
	return false
}

func matches(ifNoneMatch, etag string) bool {
	for candidate := range strings.SplitSeq(ifNoneMatch, ",") {
		candidate = strings.TrimPrefix(strings.TrimSpace(candidate), "W/")
		if candidate == etag || candidate == "*" {
			return true
		}
	}
	return false
}
