package web

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"text/template"
)

// shellFile holds the templates that the pages are made of. It is no page itself.
const shellFile = "shell.html"

// Compose makes the pages of a site from their templates: every page in pages on
// top of the shell that stands beside it. A page that has not changed keeps its
// file, so that it is not packed again.
func Compose(pages fs.FS, dir string) error {
	shell, err := template.ParseFS(pages, shellFile)
	if err != nil {
		return fmt.Errorf("pages: %w", err)
	}
	names, err := fs.Glob(pages, "*.html")
	if err != nil {
		return fmt.Errorf("pages: %w", err)
	}
	for _, name := range names {
		if name == shellFile {
			continue
		}
		if err := compose(shell, pages, name, filepath.Join(dir, name)); err != nil {
			return fmt.Errorf("pages: %w", err)
		}
	}
	return nil
}

func compose(shell *template.Template, pages fs.FS, name, file string) error {
	page, err := shell.Clone()
	if err != nil {
		return err
	}
	if page, err = page.ParseFS(pages, name); err != nil {
		return err
	}
	var made bytes.Buffer
	if err := page.ExecuteTemplate(&made, name, nil); err != nil {
		return err
	}
	if was, err := os.ReadFile(file); err == nil && bytes.Equal(was, made.Bytes()) {
		return nil
	}
	return os.WriteFile(file, made.Bytes(), 0o644)
}
