// Package refdata reads the check values in testdata/reference. Only tests may
// import it: it uses the file system, which the engine itself never does.
package refdata

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Row is one line of a table with the names of its columns.
type Row struct {
	t      testing.TB
	where  string
	header []string
	cells  []string
}

// Rows reads a table by its path under testdata/reference, say
// "tables/unit_facts.csv". The first line gives the names of the columns. A
// table that cannot be read, or is empty, fails the test.
func Rows(t testing.TB, path string) []Row {
	t.Helper()
	f, err := os.Open(Path(path))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if len(lines) < 2 {
		t.Fatalf("%s: no rows", path)
	}
	rows := make([]Row, 0, len(lines)-1)
	for i, cells := range lines[1:] {
		rows = append(rows, Row{t, path + ":" + strconv.Itoa(i+2), lines[0], cells})
	}
	return rows
}

// Path returns the place of a file of testdata/reference on this machine. A test is run
// in the directory of its package, somewhere below go.mod.
func Path(path string) string {
	dir, err := os.Getwd()
	if err != nil {
		panic("refdata: " + err.Error())
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, "testdata", "reference", filepath.FromSlash(path))
		}
		above := filepath.Dir(dir)
		if above == dir {
			panic("refdata: no go.mod above the package under test")
		}
		dir = above
	}
}

// Where returns file and line of the row, for messages.
func (r Row) Where() string { return r.where }

// Text returns the cell of a column.
func (r Row) Text(column string) string {
	r.t.Helper()
	for i, h := range r.header {
		if h == column && i < len(r.cells) {
			return r.cells[i]
		}
	}
	r.t.Fatalf("%s: no column %q", r.where, column)
	return ""
}

// Number returns the number in the cell of a column.
func (r Row) Number(column string) float64 {
	r.t.Helper()
	x, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.t.Fatalf("%s: column %q: %v", r.where, column, err)
	}
	return x
}

// Has reports whether the cell of a column holds anything.
func (r Row) Has(column string) bool {
	r.t.Helper()
	return r.Text(column) != ""
}
