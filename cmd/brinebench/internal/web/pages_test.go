package web

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

func TestPagesAreMadeOfTheShell(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Compose(fstest.MapFS{
		"shell.html":  {Data: []byte(`{{define "title"}}Plain{{end}}{{define "head"}}<title>{{template "title"}}</title>{{.}} {{end}}`)},
		"index.html":  {Data: []byte(`{{template "head" "first"}}one`)},
		"second.html": {Data: []byte(`{{define "title"}}Other{{end}}{{template "head" "second"}}two`)},
	}, dir))
	for name, want := range map[string]string{
		"index.html":  "<title>Plain</title>first one",
		"second.html": "<title>Other</title>second two",
	} {
		made, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Equal(t, want, string(made))
	}
	require.NoFileExists(t, filepath.Join(dir, "shell.html"))
}

func TestPageThatHasNotChangedKeepsItsFile(t *testing.T) {
	dir := t.TempDir()
	pages := fstest.MapFS{"shell.html": {Data: []byte(`{{define "head"}}a{{end}}`)}, "index.html": {Data: []byte(`{{template "head"}}`)}}
	require.NoError(t, Compose(pages, dir))
	file := filepath.Join(dir, "index.html")
	require.NoError(t, os.Chmod(file, 0o444))
	before, err := os.Stat(file)
	require.NoError(t, err)
	require.NoError(t, Compose(pages, dir))
	after, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, before.ModTime(), after.ModTime())
}

func TestPageThatNamesNoTemplateOfTheShellIsRefused(t *testing.T) {
	err := Compose(fstest.MapFS{
		"shell.html": {Data: []byte(`{{define "head"}}a{{end}}`)},
		"index.html": {Data: []byte(`{{template "heap"}}`)},
	}, t.TempDir())
	require.ErrorContains(t, err, "index.html")
	require.ErrorContains(t, err, "heap")
}
