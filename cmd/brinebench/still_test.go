package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every page with a drawing has its still pictures, small enough to come with the page.
func TestEveryPlaceWithADrawingHasItsStills(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, drawStills(dir))
	pages, err := filepath.Glob("../../wasm/pages/*.html")
	require.NoError(t, err)
	drawn := 0
	for _, page := range pages {
		text, err := os.ReadFile(page)
		require.NoError(t, err)
		place := regexp.MustCompile(`{{template "head" "(\w+)"}}`).FindSubmatch(text)
		if place == nil || !regexp.MustCompile(`id="stage"`).Match(text) {
			continue
		}
		drawn++
		for _, kind := range []string{"wide-light", "wide-dark", "tall-light", "tall-dark"} {
			info, err := os.Stat(filepath.Join(dir, string(place[1])+"-"+kind+".png"))
			require.NoError(t, err, page)
			require.Less(t, info.Size(), int64(40_000), info.Name())
		}
	}
	require.Len(t, stills, drawn)
}

func TestWhatHasNotChangedKeepsItsFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a")
	require.NoError(t, keep(file, []byte("one")))
	before, err := os.Stat(file)
	require.NoError(t, err)
	require.NoError(t, os.Chtimes(file, before.ModTime().Add(-1e9), before.ModTime().Add(-1e9)))
	before, _ = os.Stat(file)
	require.NoError(t, keep(file, []byte("one")))
	after, _ := os.Stat(file)
	require.Equal(t, before.ModTime(), after.ModTime())
	require.NoError(t, keep(file, []byte("two")))
	after, _ = os.Stat(file)
	require.NotEqual(t, before.ModTime(), after.ModTime())
}
