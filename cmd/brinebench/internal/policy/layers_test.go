// Package policy holds tests of the rules that the whole tree keeps: who may
// import whom, what the engine may compute with, and the size of files.
package policy

import (
	"errors"
	"fmt"
	"go/build"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	root   = "../../../.."
	module = "brinebench"
)

// The engine's packages by level. A package may import all that stands on lower
// lines, and nothing on its own: none of the models knows another. "a>b" adds
// that a may import its neighbour b.
var engine = []string{
	"unit repro strict",
	"water",
	"valve household site hydraulic resin brine control control>valve",
	"plant",
	"outfit",
	"fault instrument instrument>fault",
	"sizing sequence",
	"outcome",
	"marking",
	"scenario record",
	"call rig",
	"signature",
	"adviser",
	"expert",
	"debrief",
	"sim",
}

// What the engine may import from outside the module: pure functions only. It
// has no files, no network, no clock, no threads and no chance but its own.
var engineOutside = words(`bufio bytes cmp embed encoding/base64 encoding/binary encoding/hex encoding/json errors fmt
	hash hash/fnv io iter math math/big math/bits slices sort strconv strings unicode unicode/utf8
	github.com/tinylib/msgp/msgp`)

// What only programs and the page may import from outside; the rest of the
// standard library is free above the engine.
var restricted = map[string][]string{
	"syscall/js":                        {"game/dom", "game/panel", "game/panel/attend", "game/panel/classroom", "game/panel/bench", "game/panel/cards", "game/panel/lobes", "game/panel/sequence", "game/panel/sizing", "wasm", "wasm/desk", "wasm/worker"},
	"github.com/hajimehoshi/ebiten":     {"game/view", "wasm"},
	"golang.org/x/image":                {"game/view", "game/ink", "assets"},
	"golang.org/x/tools":                {},
	"github.com/chromedp":               {"cmd/brinebench/internal/e2e"},
	"github.com/tinylib/msgp":           {"wasm", "wasm/worker"},
	"github.com/stretchr/testify":       {"cmd/brinebench/internal/store/storetest"},
	"github.com/open-spaced-repetition": {"game/study"},
	"rsc.io/qr":                         {"game/qr"},
	"database/sql":                      words("cmd/brinebench/internal/store cmd/brinebench/internal/store/storetest"),
	"github.com/jackc/pgx":              words("cmd/brinebench/internal/store cmd/brinebench/internal/store/storetest"),
	"modernc.org/sqlite":                {"cmd/brinebench/internal/store"},
	"golang.org/x/crypto":               {"cmd/brinebench/internal/room"},
	"golang.org/x/time":                 {"cmd/brinebench/internal/room"},
	"brinebench/sim/internal/refdata":   {}, // reads files, for tests
}

// The packages above the engine and what they may import of the module.
var above = map[string][]string{
	"scenarios":            {},
	"assets":               {},
	"game":                 {"sim", "game/say", "game/strip"},
	"game/strip":           {},
	"game/say":             {"sim/strict"},
	"game/study":           {"sim", "sim/strict", "game/say"}, // the reader of files knows nothing of the engine
	"game/viewmodel":       {"sim", "game/say"},
	"game/ink":             {},
	"game/figure":          {"sim", "game/viewmodel"},
	"game/still":           {"sim", "game", "game/figure", "game/ink", "game/viewmodel"},
	"game/view":            {"sim", "game", "game/figure", "game/ink", "game/say", "game/still", "game/viewmodel", "assets"},
	"game/cycle":           {"sim", "game", "game/study"},
	"game/bench":           {"sim", "game/strip"},
	"game/cards":           {"sim"},
	"game/sizing":          {"sim", "game", "game/say"},
	"game/class":           {"sim"},
	"game/dom":             {"game", "game/qr", "game/say"},
	"game/qr":              {},
	"game/outbox":          {"sim", "game/class"},
	"game/panel":           {"sim", "game", "game/dom", "game/say", "game/strip", "game/study", "game/viewmodel"},
	"game/panel/attend":    {"sim", "game", "game/class", "game/dom", "game/outbox", "game/say"},
	"game/panel/bench":     {"sim", "game", "game/bench", "game/dom", "game/say", "game/strip", "game/viewmodel"},
	"game/panel/lobes":     {"sim", "game/cycle", "game/dom", "game/say"},
	"game/panel/cards":     {"sim", "game", "game/cards", "game/cycle", "game/dom", "game/panel/lobes", "game/say"},
	"game/panel/sequence":  {"sim", "game", "game/class", "game/panel/attend", "game/cycle", "game/panel/lobes", "game/dom", "game/say", "game/study", "game/viewmodel"},
	"game/panel/sizing":    {"sim", "game", "game/panel/attend", "game/dom", "game/say", "game/sizing"},
	"game/panel/classroom": {"sim", "game", "game/class", "game/dom", "game/panel/attend", "game/say"},
	"wasm":                 {"sim", "game", "game/class", "game/panel/attend", "game/cycle", "game/say", "game/viewmodel", "game/study", "game/view", "game/dom", "game/bench", "game/panel", "game/panel/bench", "game/panel/sequence", "assets", "scenarios"},
	"wasm/desk":            {"game/cycle", "game/dom", "game/panel/classroom", "game/sizing", "game/panel/cards", "game/panel/sizing", "game/say", "scenarios"},
	"wasm/worker":          {"sim", "scenarios"},

	"cmd/brinebench":                          {"sim", "sim/*", "scenarios", "game/still", "cmd/brinebench/internal/*"},
	"cmd/brinebench/internal/headless":        {"sim", "sim/*"},
	"cmd/brinebench/internal/web":             {},
	"cmd/brinebench/internal/store":           {"sim", "game/class"},
	"cmd/brinebench/internal/store/storetest": {},
	"cmd/brinebench/internal/live":            {"sim", "game/class", "cmd/brinebench/internal/store"},
	"cmd/brinebench/internal/room":            words("sim scenarios game/class game/say cmd/brinebench/internal/store cmd/brinebench/internal/live"),
	"cmd/brinebench/internal/server":          words("game/class cmd/brinebench/internal/store cmd/brinebench/internal/room cmd/brinebench/internal/web"),
	"cmd/brinebench/internal/load":            {},
	"cmd/brinebench/internal/e2e":             {"cmd/brinebench/internal/web"},
	"cmd/brinebench/internal/cross":           {},
	"cmd/brinebench/internal/policy":          {},
	"sim/internal/refdata":                    {},
}

func words(s string) []string { return strings.Fields(s) }

// enginePath turns a word of the engine's table into a path in the module.
func enginePath(word string) string {
	if word == "sim" {
		return "sim"
	}
	return "sim/" + word
}

// allowed returns for each package of the module the packages of the module
// that it may import.
func allowed() map[string][]string {
	table := map[string][]string{}
	for name, imports := range above {
		table[name] = imports
	}
	var lower []string
	for _, line := range engine {
		var level []string
		for _, word := range words(line) {
			from, to, pair := strings.Cut(word, ">")
			if pair {
				table[enginePath(from)] = append(slices.Clone(lower), enginePath(to))
				continue
			}
			table[enginePath(word)] = lower
			level = append(level, enginePath(word))
		}
		lower = append(slices.Clone(lower), level...)
	}
	return table
}

// violation tells why a package must not import another; "" when it may.
func violation(table map[string][]string, pkg, imported string) string {
	permitted, known := table[pkg]
	if !known {
		return "a new package: give it a place in the table of layers"
	}
	if within, ok := strings.CutPrefix(imported, module+"/"); ok && !covered(permitted, within) {
		return "not below it in the layers"
	}
	for prefix, users := range restricted {
		if under(imported, prefix) && !slices.Contains(users, pkg) && !inEngine(pkg) {
			return "reserved to " + strings.Join(users, ", ")
		}
	}
	if inEngine(pkg) && !under(imported, module) && !slices.Contains(engineOutside, imported) {
		return "not among the pure packages that the engine may use"
	}
	return ""
}

func inEngine(pkg string) bool {
	return under(pkg, "sim") && !under(pkg, "sim/internal/refdata")
}

func under(path, prefix string) bool {
	return path == prefix || strings.HasPrefix(path, prefix+"/")
}

func covered(permitted []string, pkg string) bool {
	return slices.ContainsFunc(permitted, func(p string) bool {
		parent, all := strings.CutSuffix(p, "/*")
		return p == pkg || (all && strings.HasPrefix(pkg, parent+"/"))
	})
}

// builds are the two targets of the tree.
func builds() []build.Context {
	native, page := build.Default, build.Default
	native.GOOS, native.GOARCH, native.CgoEnabled = "linux", "amd64", false
	page.GOOS, page.GOARCH, page.CgoEnabled = "js", "wasm", false
	return []build.Context{native, page}
}

// eachPackage calls visit for each directory with Go files for either target.
func eachPackage(t *testing.T, visit func(pkg string, imports []string)) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(root, func(dir string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.IsDir() {
			return err
		}
		pkg, err := filepath.Rel(root, dir)
		if err != nil {
			return err
		}
		if slices.Contains(words("build node_modules testdata .git .ci"), entry.Name()) {
			return filepath.SkipDir
		}
		for _, target := range builds() {
			found, err := target.ImportDir(dir, 0)
			var none *build.NoGoError
			switch {
			case errors.As(err, &none):
			case err != nil:
				return err
			default:
				visit(filepath.ToSlash(pkg), found.Imports)
			}
		}
		return nil
	}))
}

func TestImportsKeepTheLayers(t *testing.T) {
	table := allowed()
	seen := 0
	eachPackage(t, func(pkg string, imports []string) {
		seen++
		if _, known := table[pkg]; !known {
			t.Errorf("%s: a new package: give it a place in the table of layers", pkg)
			return
		}
		for _, imported := range imports {
			if why := violation(table, pkg, imported); why != "" {
				t.Errorf("%s imports %s: %s", pkg, imported, why)
			}
		}
	})
	require.Greater(t, seen, 10, "packages found from %s", root)
}

func TestLayersForbidWhatTheyShould(t *testing.T) {
	table := allowed()
	tests := []struct {
		pkg, imported string
		ok            bool
	}{
		{"sim/resin", "brinebench/sim/water", true},
		{"sim/resin", "brinebench/sim/hydraulic", false},
		{"sim/control", "brinebench/sim/valve", true},
		{"sim/valve", "brinebench/sim/control", false},
		{"sim/plant", "brinebench/sim/resin", true},
		{"sim/plant", "brinebench/sim/fault", false},
		{"sim/plant", "brinebench/game", false},
		{"sim", "brinebench/sim/debrief", true},
		{"sim", "os", false},
		{"sim/repro", "math/rand/v2", false},
		{"sim/household", "time", false},
		{"sim/record", "github.com/tinylib/msgp/msgp", true},
		{"sim/plant", "syscall/js", false},
		{"sim/plant", "github.com/hajimehoshi/ebiten/v2", false},
		{"sim/water", "brinebench/sim/internal/refdata", false},
		{"game", "brinebench/sim", true},
		{"game", "brinebench/sim/plant", false},
		{"game", "syscall/js", false},
		{"game/study", "brinebench/sim/strict", true},
		{"game/study", "brinebench/game", false},
		{"game/study", "syscall/js", false},
		{"game", "github.com/open-spaced-repetition/go-fsrs/v4", false},
		{"game/view", "github.com/hajimehoshi/ebiten/v2/vector", true},
		{"game/viewmodel", "github.com/hajimehoshi/ebiten/v2", false},
		{"game/panel", "syscall/js", true},
		{"game/panel", "brinebench/sim/fault", false},
		{"wasm/worker", "brinebench/game", false},
		{"wasm/worker", "github.com/hajimehoshi/ebiten/v2", false},
		{"cmd/brinebench", "brinebench/sim/hydraulic", true},
		{"cmd/brinebench", "brinebench/game", false},
		{"cmd/brinebench/internal/web", "brinebench/sim", false},
		{"game/class", "database/sql", false},
		{"cmd/brinebench/internal/room", "database/sql", false},
		{"cmd/brinebench/internal/live", "brinebench/sim/debrief", false},
		{"sim/novelty", "fmt", false},
	}
	for _, test := range tests {
		why := violation(table, test.pkg, test.imported)
		require.Equal(t, test.ok, why == "", fmt.Sprintf("%s imports %s: %q", test.pkg, test.imported, why))
	}
}

func TestTopLevelHoldsOnlyWhatTheDesignNames(t *testing.T) {
	expected := words(`DEVELOPERS.md LICENSE Makefile README.md assets build cmd game go.mod go.sum scenarios sim
		testdata wasm`)
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	for _, entry := range entries {
		if name := entry.Name(); !strings.HasPrefix(name, ".") { // an editor's, or what make run keeps
			require.Contains(t, expected, name, "at the top of the tree")
		}
	}
}
