package headless

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is no case at all is refused in a word, before it could do any harm.
func TestColumnAndNetworkRefuseWhatIsNoCase(t *testing.T) {
	dir := t.TempDir()
	for _, row := range []struct{ situation, text, want string }{
		{"empty", "", "EOF"},
		{"blank", " \n", "EOF"},
		{"null", "null", "not an object"},
		{"a list", "[]", "not an object"},
		{"no text", "\x00\xff\x01", "invalid character"},
		{"a mark of byte order", "\ufeff{}", "invalid character"},
		{"lists in lists", strings.Repeat("[", 200_000), "not an object"},
		{"objects in objects", strings.Repeat(`{"bed":`, 50_000), "exceeded max depth"},
		{"another object after it", "{} {}", "more follows the object"},
	} {
		file := filepath.Join(dir, "case.json")
		require.NoError(t, os.WriteFile(file, []byte(row.text), 0o600))
		requireRefused(t, file, row.want)
	}
	requireRefused(t, dir, "is a directory")
	requireRefused(t, filepath.Join(dir, "nowhere.json"), "no such file")

	long := filepath.Join(dir, "long.json")
	require.NoError(t, os.WriteFile(long, []byte("{}"), 0o600))
	require.NoError(t, os.Truncate(long, 100<<20))
	requireRefused(t, long, "longer than")
}

func requireRefused(t *testing.T, file, want string) {
	t.Helper()
	for name, run := range map[string]func([]string, io.Writer) error{"column": Column, "network": Network} {
		var out strings.Builder
		require.ErrorContains(t, run([]string{file}, &out), want, name)
		require.Empty(t, out.String(), name)
	}
}

// A text that breaks off tells where, and what was wrong before; not that what
// could not be read is missing.
func TestACaseThatBreaksOffIsToldOnce(t *testing.T) {
	column := strings.Replace(soundColumn, `"Ca": 1.018045, `, `"Ca": 1.018045 `, 1)
	require.NotEqual(t, soundColumn, column)
	_, err := decodeColumn("c.json", []byte(strings.Replace(column, "0.762", "-1", 1)))
	require.ErrorContains(t, err, "bed.depth_m: -1 is outside")
	require.ErrorContains(t, err, "invalid character")
	require.Len(t, strings.Split(err.Error(), "\n"), 2, "%v", err)

	network := string(works(source, main25+","+nozzle+","+valve+`"kind": "minor"}`))
	broken := strings.Replace(network, `"cd": 0.62`, `"cd" 0.62`, 1)
	require.NotEqual(t, network, broken)
	_, err = decodePipework("c.json", []byte(broken))
	require.ErrorContains(t, err, "invalid character")
	require.Len(t, strings.Split(err.Error(), "\n"), 1, "%v", err)
}
