package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// This file reads from the engine's sources all that it can say: texts, and
// patterns of texts, whose places are written {}.

// saying are the packages of the engine that speak to the page, and the drawing,
// whose letterings are looked up in the same way.
var saying = strings.Fields("sim sim/call sim/debrief sim/expert sim/fault sim/instrument sim/marking sim/outfit sim/sizing " + drawing)

const drawing = "game/viewmodel"

// source is the speech of one package.
type source struct {
	pkg   string
	texts map[string]bool
}

// spokenIn returns what the engine can say by its sources.
func spokenIn(t *testing.T) map[string]bool {
	t.Helper()
	texts := map[string]bool{}
	for _, pkg := range saying {
		files, err := filepath.Glob(filepath.Join("../..", pkg, "*.go"))
		require.NoError(t, err)
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			file, err := parser.ParseFile(token.NewFileSet(), name, data, 0)
			require.NoError(t, err)
			s := source{pkg, texts}
			ast.Inspect(file, s.visit)
		}
	}
	require.Greater(t, len(texts), 300, "texts found")
	return texts
}

// visit notes the texts of an expression and goes no deeper where it has done so.
func (s source) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.Field:
		return false // tags
	case *ast.ValueSpec:
		return s.pkg != "sim/sizing" || !slices.Contains([]string{"units", "symbols", "degrees", "jobAmounts"}, n.Names[0].Name)
	case *ast.FuncDecl:
		return n.Name.Name != "Error"
	case *ast.KeyValueExpr:
		if key, ok := n.Key.(*ast.Ident); ok && key.Name == "ID" {
			return false
		}
	case *ast.CallExpr:
		switch name := called(n); {
		case name == "panic", strings.HasPrefix(name, "errors."), name == "fmt.Errorf":
			return false
		case name == "w.Fault", name == "entry", name == "whole", name == "amountIn":
			return false
		case name == "refuse":
			for _, format := range parts(n.Args[1]) {
				s.say(format)
			}
			return false
		case name == "strings.Join":
			for _, sep := range parts(n.Args[1]) {
				s.say("{}" + sep + "{}")
			}
			ast.Inspect(n.Args[0], s.visit)
			return false
		case name == "say.Text", name == "b.readout", name == ".Measure":
			return false
		case s.pkg == drawing && slices.Contains(strings.Fields("say.Sim b.label b.note b.noteAs b.caption b.beside b.plate b.word"), name):
			for _, arg := range n.Args {
				s.note(arg, true)
			}
			return false
		case s.pkg == "sim/instrument" && slices.Contains([]string{"look", "hardness", "pen", "iron", "gauge"}, name):
			for _, arg := range n.Args[1:] {
				s.note(arg, true)
			}
			return false
		}
	case *ast.AssignStmt:
		for _, r := range n.Rhs {
			if id, _ := literal(r); s.pkg == drawing && !strings.HasPrefix(id, "canvas.") {
				s.note(r, true)
			}
		}
	case *ast.RangeStmt:
		if list, ok := n.X.(*ast.CompositeLit); ok && s.pkg == drawing {
			for _, e := range list.Elts {
				s.note(e, true)
			}
		}
	case *ast.ReturnStmt:
		if s.pkg == "sim/instrument" || s.pkg == drawing {
			for _, r := range n.Results {
				s.note(r, true)
			}
		}
	}
	if e, ok := n.(ast.Expr); ok && s.note(e, false) {
		return false
	}
	return true
}

// note says what an expression gives, if it is a text; short takes single words too.
func (s source) note(e ast.Expr, short bool) bool {
	switch e := e.(type) {
	case *ast.BasicLit, *ast.BinaryExpr, *ast.IndexExpr:
	case *ast.CallExpr:
		if called(e) != "fmt.Sprintf" {
			return false
		}
	default:
		return false
	}
	found := false
	for _, text := range parts(e) {
		words := strings.ReplaceAll(text, "{}", "")
		if strings.Trim(words, " -") == "" || s.pkg == drawing && unitsOnly.MatchString(words) {
			continue
		}
		if short || strings.Contains(strings.TrimSpace(text), " ") || starts.MatchString(words) || strings.HasPrefix(text, "{}") && words != "@" {
			s.say(text)
			found = true
		}
	}
	return found
}

func (s source) say(text string) {
	if text = strings.TrimSpace(text); strings.Trim(text, "{} ") != "" {
		s.texts[text] = true
	}
}

func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok {
			return x.Name + "." + f.Sel.Name
		}
		return "." + f.Sel.Name
	}
	return ""
}

var (
	verb = regexp.MustCompile(`%[-+#0-9.]*[a-z%]`)
	// unitsOnly are texts of marks and units alone, which are the same in all languages.
	unitsOnly = regexp.MustCompile(`^(\PL|\b(min|h|M|gpm)\b)*$`)
	starts    = regexp.MustCompile(`^ ?[A-Z(]`) // a text, where it is a single word
)

// filled is a format with {} for its verbs.
func filled(format string) string {
	return verb.ReplaceAllStringFunc(format, func(v string) string {
		switch v {
		case "%%":
			return "%"
		case "%q":
			return `"{}"`
		}
		return "{}"
	})
}

// parts are the texts that an expression can give, {} for what it fills in.
func parts(e ast.Expr) []string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if text, err := strconv.Unquote(e.Value); err == nil && e.Kind == token.STRING {
			return []string{filled(text)}
		}
	case *ast.ParenExpr:
		return parts(e.X)
	case *ast.BinaryExpr:
		if e.Op != token.ADD {
			return nil
		}
		var all []string
		for _, a := range parts(e.X) {
			for _, b := range parts(e.Y) {
				all = append(all, a+b)
			}
		}
		return all
	case *ast.CallExpr:
		switch called(e) {
		case "fmt.Sprintf":
			var all []string
			all = append(all, parts(e.Args[0])...)
			return all
		case "choose":
			return append(parts(e.Args[1]), parts(e.Args[2])...)
		}
	case *ast.IndexExpr:
		if table, ok := e.X.(*ast.CompositeLit); ok {
			var all []string
			for _, pair := range table.Elts {
				if kv, ok := pair.(*ast.KeyValueExpr); ok {
					pair = kv.Value
				}
				all = append(all, parts(pair)...)
			}
			return all
		}
	}
	return []string{"{}"}
}
