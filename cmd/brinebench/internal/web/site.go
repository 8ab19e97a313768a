// Package web serves the built page to browsers on this machine or in the
// classroom: files held in memory, packed by the build, with caching and security
// headers. It has no state and knows nothing of softeners.
package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"
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
	etag        string // hash of the plain body, without quotes
	plain       []byte
	brotli      []byte        // nil where the build made none
	gzipped     func() []byte // nil where it would not be smaller
}

// Load reads a whole site into memory, with what Pack has packed of it. It wants
// an index.html at the top and reports every file whose kind it does not know.
func Load(fsys fs.FS) (*Site, error) {
	site := &Site{files: map[string]*file{}}
	var unknown []string
	err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || isPacked(name) {
			return err
		}
		contentType, ok := contentTypes[path.Ext(name)]
		if !ok {
			unknown = append(unknown, name)
			return nil
		}
		f, err := readFile(fsys, name)
		if err != nil {
			return err
		}
		f.contentType = contentType
		site.files["/"+name] = f
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

// readFile reads a file and what stands packed beside it. Where the build has
// not packed it, gzip does at the first request.
func readFile(fsys fs.FS, name string) (*file, error) {
	plain, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	hash := sha256.Sum256(plain)
	f := &file{plain: plain, etag: hex.EncodeToString(hash[:12])}
	f.brotli = readPacked(fsys, name, brotliSuffix)
	if gzipped := readPacked(fsys, name, gzipSuffix); gzipped != nil {
		f.gzipped = func() []byte { return gzipped }
	} else {
		f.gzipped = sync.OnceValue(func() []byte { return shrunk(gzipSuffix, plain) })
	}
	return f, nil
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

// serve answers with the smallest form that the client takes, whole or a range
// of it. Each form has a tag of its own.
func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	body, etag := f.plain, f.etag
	header := w.Header()
	switch coding := f.coding(r.Header.Get("Accept-Encoding")); coding {
	case "br":
		body = f.brotli
		header.Set("Content-Encoding", coding)
		etag += "-" + coding
	case "gzip":
		body = f.gzipped()
		header.Set("Content-Encoding", coding)
		etag += "-" + coding
	}
	header.Set("Vary", "Accept-Encoding")
	header.Set("Cache-Control", "no-cache")
	header.Set("ETag", strconv.Quote(etag))
	header.Set("Content-Type", f.contentType)
	header.Set("Content-Length", strconv.Itoa(len(body))) // net/http leaves it out of what is packed
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}

// coding chooses a form by the weights that a client gives: brotli where it is
// liked as well as gzip, "" for the plain body. Browsers ask for brotli on this
// machine and on secure origins; over a classroom's network they ask for gzip.
func (f *file) coding(accept string) string {
	br, gz := weight(accept, "br"), weight(accept, "gzip")
	switch {
	case f.brotli != nil && br > 0 && br >= gz:
		return "br"
	case gz > 0 && f.gzipped() != nil:
		return "gzip"
	}
	return ""
}

// weight reads from an Accept-Encoding how much a coding is liked, 0..1. "*"
// stands for any that is not named.
func weight(accept, coding string) float64 {
	others := 0.0
	for item := range strings.SplitSeq(accept, ",") {
		name, rest, _ := strings.Cut(item, ";")
		value, given := strings.CutPrefix(strings.TrimSpace(rest), "q=")
		q, err := strconv.ParseFloat(value, 64)
		switch {
		case !given:
			q = 1
		case err != nil:
			q = 0
		}
		switch strings.TrimSpace(name) {
		case coding:
			return q
		case "*":
			others = q
		}
	}
	return others
}
