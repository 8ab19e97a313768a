package policy

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A file about this long is worth splitting; a longer one is refused.
const softLines, hardLines = 400, 600

func TestFilesStayShortEnoughToRead(t *testing.T) {
	sources := words(".go .js .css .html")
	seen := 0
	require.NoError(t, filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if slices.Contains(words(".git build node_modules testdata"), entry.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		if !slices.Contains(sources, filepath.Ext(path)) {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil || generated(text) {
			return err
		}
		seen++
		name := strings.TrimPrefix(filepath.ToSlash(path), root+"/")
		switch lines := bytes.Count(text, []byte("\n")); {
		case lines > hardLines:
			t.Errorf("%s has %d lines: split it (limit %d)", name, lines, hardLines)
		case lines > softLines:
			t.Logf("%s has %d lines: worth splitting", name, lines)
		}
		return nil
	}))
	require.Greater(t, seen, 20, "source files found")
}

// generated knows the standard mark of generated Go files.
func generated(text []byte) bool {
	for line := range bytes.Lines(text) {
		if bytes.HasPrefix(line, []byte("package ")) {
			return false
		}
		if bytes.HasPrefix(line, []byte("// Code generated ")) && bytes.HasSuffix(bytes.TrimSpace(line), []byte(" DO NOT EDIT.")) {
			return true
		}
	}
	return false
}
