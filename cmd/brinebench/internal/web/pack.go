package web

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/andybalholm/brotli"
)

// Suffixes of packed files, which stand beside the plain ones as servers of
// static files commonly have it.
const (
	brotliSuffix = ".br"
	gzipSuffix   = ".gz"
)

// sizesFile tells the page the plain sizes of its programs in bytes, by name:
// what a server names is the size packed.
const sizesFile = "sizes.json"

// brotliLevel takes some seconds for the program; the two levels above it take a
// minute for the last tenth.
const brotliLevel = 9

// PackCommand is `brinebench pack`: it makes the pages of a built site, where it is
// given their templates, with the pictures that draw puts beside them, and packs the
// whole, so that serving it costs nothing.
func PackCommand(draw func(dir string) error) func(args []string, out io.Writer) error {
	return func(args []string, _ io.Writer) error { return packCommand(args, draw) }
}

func packCommand(args []string, draw func(dir string) error) error {
	flags := flag.NewFlagSet("pack", flag.ContinueOnError)
	dir := flags.String("dir", "build/site", "directory of the built site")
	pages := flags.String("pages", "", "directory of the templates of its pages")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("pack: unexpected argument %q", flags.Arg(0))
	}
	if *pages != "" {
		if err := Compose(os.DirFS(*pages), *dir); err != nil {
			return err
		}
		if err := draw(*dir); err != nil {
			return fmt.Errorf("pack: %w", err)
		}
	}
	return Pack(*dir)
}

// Pack writes the packed forms of every file of a site beside it, and the list
// of plain sizes. What is there and not older than its file is left as it is.
func Pack(dir string) error {
	names, sizes, err := plainFiles(dir)
	if err != nil {
		return fmt.Errorf("pack: %w", err)
	}
	list, err := json.Marshal(sizes)
	if err != nil {
		return fmt.Errorf("pack: %w", err)
	}
	if err := os.WriteFile(filepath.Join(dir, sizesFile), list, 0o644); err != nil {
		return fmt.Errorf("pack: %w", err)
	}
	var waiting sync.WaitGroup
	errs := make(chan error, 2*len(names))
	for _, name := range names {
		for _, suffix := range []string{brotliSuffix, gzipSuffix} {
			waiting.Go(func() { errs <- packFile(os.DirFS(dir), dir, name, suffix) })
		}
	}
	waiting.Wait()
	close(errs)
	for err := range errs {
		if err != nil {
			return fmt.Errorf("pack: %w", err)
		}
	}
	return nil
}

// plainFiles lists the files of a site that are not packed, and the sizes of its
// programs.
func plainFiles(dir string) (names []string, sizes map[string]int64, err error) {
	sizes = map[string]int64{}
	err = fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || isPacked(name) || name == sizesFile {
			return err
		}
		names = append(names, name)
		if strings.HasSuffix(name, ".wasm") {
			info, err := entry.Info()
			if err != nil {
				return err
			}
			sizes[name] = info.Size()
		}
		return nil
	})
	return names, sizes, err
}

func packFile(fsys fs.FS, dir, name, suffix string) error {
	if isFresh(fsys, name, suffix) {
		return nil
	}
	plain, err := fs.ReadFile(fsys, name)
	if err != nil {
		return err
	}
	packed := filepath.Join(dir, name+suffix)
	small := shrunk(suffix, plain)
	if small == nil {
		if err := os.Remove(packed); err != nil && !os.IsNotExist(err) {
			return err
		}
		return nil
	}
	return os.WriteFile(packed, small, 0o644)
}

// isPacked tells whether a file is the packed form of another.
func isPacked(name string) bool {
	return strings.HasSuffix(name, brotliSuffix) || strings.HasSuffix(name, gzipSuffix)
}

// isFresh tells whether the packed form of a file is there and of the same build.
func isFresh(fsys fs.FS, name, suffix string) bool {
	plain, err := fs.Stat(fsys, name)
	if err != nil {
		return false
	}
	packed, err := fs.Stat(fsys, name+suffix)
	return err == nil && !packed.ModTime().Before(plain.ModTime())
}

// readPacked reads the packed form of a file, nil where there is none of its build.
func readPacked(fsys fs.FS, name, suffix string) []byte {
	if !isFresh(fsys, name, suffix) {
		return nil
	}
	data, err := fs.ReadFile(fsys, name+suffix)
	if err != nil {
		return nil
	}
	return data
}

// shrunk returns body packed, or nil where that would not make it smaller.
func shrunk(suffix string, body []byte) []byte {
	var out bytes.Buffer
	var writer io.WriteCloser
	if suffix == brotliSuffix {
		writer = brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: brotliLevel, LGWin: 24})
	} else {
		writer, _ = gzip.NewWriterLevel(&out, gzip.BestCompression) // the level is one there is
	}
	writer.Write(body) // into memory: cannot fail
	writer.Close()
	if out.Len() >= len(body) {
		return nil
	}
	return out.Bytes()
}
