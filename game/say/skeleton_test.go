package say

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// This file holds the page's skeleton to its own catalogue, wasm/words.js.

func page(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile("../../wasm/" + name)
	require.NoError(t, err)
	return string(data)
}

// pages are the templates of all pages.
func pages(t *testing.T) (all string) {
	t.Helper()
	files, err := filepath.Glob("../../wasm/pages/*.html")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		all += page(t, "pages/"+filepath.Base(f))
	}
	return all
}

func wordsFile(t *testing.T) (words map[Lang]map[string]string) {
	t.Helper()
	_, text, _ := strings.Cut(page(t, "words.js"), "brinebenchWords = ")
	require.NoError(t, json.Unmarshal([]byte(strings.TrimSuffix(strings.TrimSpace(text), ";")), &words))
	return words
}

// first are the first groups of all matches.
func first(pattern, text string) (found []string) {
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		found = append(found, m[1])
	}
	return found
}

func TestTheSkeletonHasItsWordsInEveryLanguage(t *testing.T) {
	words := wordsFile(t)
	require.Len(t, words, len(Langs))
	inPage := first(`data-say(?:-label)?="([^"]*)"`, pages(t))
	asked := first(`word\("([^"]*)"`, page(t, "boot.js"))
	for _, pair := range first(`(fail\("[^)]*)\)`, page(t, "boot.js")) {
		asked = append(asked, first(`"([a-z-]+)"`, pair)...)
	}
	asked = append(asked, first(`"(fetching)"`, page(t, "boot.js"))...)
	asked = append(asked, first(`"(fetching-of)"`, page(t, "boot.js"))...)
	asked = append(asked, first(`brinebenchWord\("([^"]*)"`, page(t, "stage.js"))...)
	for _, id := range asked {
		require.Contains(t, words[English], id)
	}
	for id, text := range words[English] {
		require.Contains(t, asked, id, "nobody says it")
		require.NotContains(t, inPage, id, "a page has another text of that id")
		for _, l := range others {
			require.ElementsMatch(t, places.FindAllString(text, -1), places.FindAllString(words[l][id], -1), id)
		}
	}
	for _, l := range others {
		for _, id := range slices.Concat(inPage, asked) {
			require.NotEmpty(t, words[l][id], "%s: %s", l, id)
		}
		for id := range words[l] {
			require.Contains(t, slices.Concat(inPage, asked), id, "nobody says it")
		}
	}
}

func TestWhatTheSkeletonShowsIsMarkedForTranslation(t *testing.T) {
	actions := regexp.MustCompile(`(?s){{.*?}}`)
	_, ofPages, _ := strings.Cut(pages(t), "<body>") // all but the shell's head
	requireMarked(t, actions.ReplaceAllString(ofPages, ""))
	require.NotRegexp(t, `content: "[^"]*\pL`, page(t, "style.css")+page(t, "print.css"))
}

func requireMarked(t *testing.T, html string) {
	t.Helper()
	html = regexp.MustCompile(`(?s)<noscript>.*?</noscript>`).ReplaceAllString(html, "") // speaks both
	const name = "Brinebench"
	for _, m := range regexp.MustCompile(`<([a-z0-9]+)([^>]*)>([^<]*\pL[^<]*)<`).FindAllStringSubmatch(html, -1) {
		inItself := m[3] == name || strings.Contains(m[2], ` lang="`) || strings.Contains(m[2], "data-units") || regexp.MustCompile(`^\d+×$`).MatchString(m[3])
		require.True(t, inItself || strings.Contains(m[2], "data-say="), "%q", m[0])
	}
	for _, m := range regexp.MustCompile(`<[^>]*aria-label="[^>]*>`).FindAllString(html, -1) {
		require.True(t, strings.Contains(m, "data-say-label=") || strings.Contains(m, ` lang="`), m)
	}
}
