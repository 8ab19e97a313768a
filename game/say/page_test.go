package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"brinebench/sim/call"

	"github.com/stretchr/testify/require"
)

// ofPage are the directories of the page's code, room that of the server's, which prints a sheet.
var ofPage = []string{"..", "../../wasm"}

const room = "../../cmd/brinebench/internal/room"

// eachFile calls visit with the syntax of every file of code in directories.
func eachFile(t *testing.T, dirs []string, visit func(name string, file *ast.File)) {
	t.Helper()
	seen := 0
	for _, dir := range dirs {
		require.NoError(t, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			if filepath.Base(filepath.Dir(name)) == "class" { // what it says is the server's, for its log
				return nil
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err == nil {
				seen++
				visit(filepath.ToSlash(name), file)
			}
			return err
		}))
	}
	require.Greater(t, seen, 50, "files found")
}

func literal(e ast.Expr) (text string, ok bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

func TestEveryIDInTheCodeIsInTheCatalogueAndEveryTextIsUsed(t *testing.T) {
	literals := map[string]bool{}
	entries := mustEntries(English)
	eachFile(t, append([]string{room}, ofPage...), func(name string, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			if e, ok := n.(ast.Expr); ok {
				if text, ok := literal(e); ok {
					literals[text] = true
				}
			}
			if c, ok := n.(*ast.CallExpr); ok && (called(c) == "say.Text" || called(c) == "v.Text") {
				if id, ok := literal(c.Args[0]); ok && entries[id].Other == "" {
					t.Errorf("%s: no text %q in the catalogue", name, id)
				}
			}
			return true
		})
	})
	for id := range entries {
		used := literals[id]
		for l := range literals { // "place." + …, or … + ".end"
			used = used || len(l) > 2 && strings.ContainsAny(l[len(l)-1:], ".-") && strings.HasPrefix(id, l) ||
				len(l) > 2 && l[0] == '.' && strings.HasSuffix(id, l)
		}
		if !used {
			t.Errorf("nobody says %q", id)
		}
	}
}

func TestIDsThatAreMadeFromTheEnginesAreInTheCatalogue(t *testing.T) {
	entries := mustEntries(English)
	for prefix, ids := range map[string][]string{
		"help.": call.Rungs, "lubricant.": call.Lubricants, "conclusion.": call.Conclusions, "weight.": call.Conclusions,
	} {
		for _, id := range ids {
			require.Contains(t, entries, prefix+id)
		}
	}
}

func TestAllLanguagesSayTheSame(t *testing.T) {
	sorted := func(text string) []string {
		p := places.FindAllString(text, -1)
		slices.Sort(p)
		return slices.Compact(p)
	}
	english := mustEntries(English)
	for _, l := range Langs {
		data, err := files.ReadFile(string(l) + ".json")
		require.NoError(t, err)
		requireNoTwins(t, data)
		entries := mustEntries(l)
		require.Len(t, entries, len(english), "texts in %s", l)
		for id, e := range english {
			require.Contains(t, entries, id, "%s", l)
			require.NotEmpty(t, entries[id].Other, "%s: %s", l, id)
			require.Equal(t, sorted(e.Other), sorted(entries[id].Other), "%s: %s", l, id)
			require.Equal(t, e.One == "", entries[id].One == "", "%s: %s: plural", l, id)
			if e.One != "" {
				require.Subset(t, sorted(e.Other), sorted(entries[id].One), "%s: %s", l, id)
			}
		}
	}
}

// Texts by their look: a title or a sentence, or several small words.
var (
	title  = regexp.MustCompile(`^[A-Z¿¡“][a-zé']* .*[a-z]|^[A-Z][^()]*[a-z][.!?…]$`)
	phrase = regexp.MustCompile(`^[a-z]{2,}( [a-z'-]{2,}){2,}$`)
)

func TestThePagesCodeHoldsNoText(t *testing.T) {
	speak(t, Spanish) // in which the engine's texts and the drawing's letterings are known
	eachFile(t, ofPage, func(name string, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				c := called(n)
				if c == "panic" || c == "fmt.Errorf" || c == "errors.New" {
					return false // for the developer's eyes, or a file's faults
				}
			case *ast.BasicLit:
				text, ok := literal(n)
				if _, engines := spoken.hear(text); ok && !engines && (title.MatchString(text) || phrase.MatchString(text)) {
					t.Errorf("%s: %q belongs in the catalogue", name, text)
				}
			}
			return true
		})
	})
}
