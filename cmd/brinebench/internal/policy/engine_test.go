package policy

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/tools/go/packages"
)

// What the engine may take from package math: operations that IEEE 754 rounds
// correctly, or that only look at bits. All others differ between processors:
// even Cbrt, whose Go code is fused on arm64 and then off by one bit once in
// twenty million. Package repro has them with the same bits everywhere.
var mathAllowed = words(`Sqrt Floor Ceil Trunc Round Abs Min Max Copysign Signbit Inf IsInf NaN IsNaN
	Float64bits Float64frombits Float32bits Float32frombits
	Pi E Ln2 Ln10 Sqrt2 MaxFloat64 SmallestNonzeroFloat64 MaxInt MinInt MaxInt64 MinInt64 MaxInt32 MinInt32 MaxUint64
	MaxUint32 MaxUint16 MaxUint8`)

// loadEngine type-checks the engine's packages without their tests.
func loadEngine(t *testing.T, patterns ...string) []*packages.Package {
	t.Helper()
	loaded, err := packages.Load(&packages.Config{
		Dir:  root,
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo | packages.NeedImports,
	}, patterns...)
	require.NoError(t, err)
	for _, pkg := range loaded {
		require.Empty(t, pkg.Errors, pkg.PkgPath)
	}
	return loaded
}

func TestEngineComputesTheSameEverywhere(t *testing.T) {
	checked := 0
	for _, pkg := range loadEngine(t, "./sim/...") {
		if !inEngine(strings.TrimPrefix(pkg.PkgPath, module+"/")) {
			continue
		}
		checked++
		for _, file := range pkg.Syntax {
			for _, fault := range irreproducible(pkg, file) {
				t.Error(fault)
			}
		}
	}
	require.Greater(t, checked, 5, "packages of the engine")
}

func TestIrreproducibleSeesEachKind(t *testing.T) {
	loaded := loadEngine(t, "./cmd/brinebench/internal/policy/testdata/careless")
	require.Len(t, loaded, 1)
	var faults []string
	for _, file := range loaded[0].Syntax {
		faults = append(faults, irreproducible(loaded[0], file)...)
	}
	require.Len(t, faults, 6, strings.Join(faults, "\n"))
	for i, want := range words("math.Exp math.Cbrt map goroutine select range") {
		require.Contains(t, faults[i], want)
	}
}

// irreproducible lists the constructions in a file whose result may differ
// between two runs or two processors.
func irreproducible(pkg *packages.Package, file *ast.File) []string {
	var faults []string
	report := func(at token.Pos, what string) {
		position := pkg.Fset.Position(at)
		name := position.Filename
		if short, err := filepath.Rel(root, name); err == nil {
			name = short
		}
		faults = append(faults, fmt.Sprintf("%s:%d: %s", name, position.Line, what))
	}
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.SelectorExpr:
			object := pkg.TypesInfo.Uses[n.Sel]
			if object != nil && object.Pkg() != nil && object.Pkg().Path() == "math" && !slices.Contains(mathAllowed, object.Name()) {
				report(n.Pos(), "math."+object.Name()+" does not give the same bits everywhere: use package repro")
			}
		case *ast.RangeStmt:
			switch pkg.TypesInfo.TypeOf(n.X).Underlying().(type) {
			case *types.Map:
				report(n.Pos(), "ranging over a map has no fixed order")
			case *types.Chan:
				report(n.Pos(), "range over a channel: the engine has no threads")
			}
		case *ast.GoStmt:
			report(n.Pos(), "goroutine: the engine has no threads")
		case *ast.SelectStmt:
			report(n.Pos(), "select: the engine has no threads")
		}
		return true
	})
	return faults
}
