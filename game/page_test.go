package game

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The page's files are read as text: the panels themselves run in a browser only.
func readAll(t *testing.T, pattern string) string {
	t.Helper()
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var all strings.Builder
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		all.Write(b)
	}
	return all.String()
}

func TestEveryElementThatThePanelsNeedIsOnThePage(t *testing.T) {
	needed := regexp.MustCompile(`ByID\("([^"]+)"\)`)
	shared := readAll(t, "../wasm/pages/shell.html")
	for sources, page := range map[string]string{
		"panel/*.go":           "index.html",
		"panel/sequence/*.go":  "sequence.html",
		"panel/classroom/*.go": "class.html",
	} {
		source, page := readAll(t, sources), shared+readAll(t, "../wasm/pages/"+page)
		found := needed.FindAllStringSubmatch(source, -1)
		require.NotEmpty(t, found, sources)
		for _, m := range found {
			onPage := strings.Contains(page, `id="`+m[1]+`"`)
			madeByPanels := strings.Contains(source, `"id": "`+m[1]+`"`)
			require.True(t, onPage || madeByPanels, "%s: #%s", sources, m[1])
		}
	}
}

func TestPagesOfferEveryPace(t *testing.T) {
	paces := readAll(t, "../wasm/pages/shell.html")
	for _, p := range Paces {
		require.Contains(t, paces, `data-pace="`+strconv.FormatFloat(p, 'f', -1, 64)+`"`)
	}
}

func TestPanelsNeverWriteMarkup(t *testing.T) {
	source := readAll(t, "dom/*.go") + readAll(t, "panel/*.go") + readAll(t, "panel/*/*.go") + readAll(t, "../wasm/*.js") + readAll(t, "../wasm/main.go")
	for _, word := range []string{"innerHTML", "outerHTML", "insertAdjacentHTML", "document.write"} {
		require.NotContains(t, source, word)
	}
}

// Contrast ratios as WCAG 2.2 defines them (success criteria 1.4.3 and 1.4.11).
func TestThemesKeepContrast(t *testing.T) {
	style := readAll(t, "../wasm/style.css") + readAll(t, "../wasm/print.css")
	themes := regexp.MustCompile(`(?s):root[^{]*\{([^}]*--ground[^}]*)\}`).FindAllStringSubmatch(style, -1)
	require.Len(t, themes, 3, "light, dark, and print, which is black on white")
	for i, name := range []string{"light", "dark"} {
		colour := map[string]float64{}
		for _, m := range regexp.MustCompile(`--([\w-]+): #([0-9a-f]{6})`).FindAllStringSubmatch(themes[i][1], -1) {
			colour[m[1]] = luminance(t, m[2])
		}
		for _, row := range []struct {
			over, under string
			least       float64
		}{
			{"ink", "ground", 4.5},
			{"ink", "paper", 4.5},
			{"soft", "ground", 4.5},
			{"soft", "paper", 4.5},
			{"on-ink", "on", 4.5},
			{"wrong", "wrong-paper", 4.5},
			{"wrong", "paper", 4.5},
			{"ink", "wrong-paper", 4.5},
			{"soft", "wrong-paper", 4.5},
			{"edge", "paper", 3},
			{"edge", "ground", 3},
			{"on", "paper", 3},
			{"on", "ground", 3},
			{"focus", "paper", 3},
			{"focus", "ground", 3},
			{"curve-1", "paper", 3},
			{"curve-2", "paper", 3},
			{"curve-3", "paper", 3},
		} {
			require.Contains(t, colour, row.over)
			require.Contains(t, colour, row.under)
			a, b := colour[row.over], colour[row.under]
			ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05)
			require.GreaterOrEqual(t, ratio, row.least, "%s: %s on %s", name, row.over, row.under)
		}
	}
}

func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(hex, 16, 32)
	require.NoError(t, err)
	channel := func(shift uint) float64 {
		c := float64(v>>shift&0xff) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(16) + 0.7152*channel(8) + 0.0722*channel(0)
}
