package say

import (
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brinebench/scenarios"
	"brinebench/sim/scenario"

	"github.com/stretchr/testify/require"
)

// number finds what a house's description gives in figures.
var number = regexp.MustCompile(`[0-9½¾]+`)

func TestEveryCallIsToldInEveryLanguage(t *testing.T) {
	names, err := fs.Glob(scenarios.FS, "*.json")
	require.NoError(t, err)
	for _, l := range others {
		found, err := fs.Glob(scenarios.Told, string(l)+"/*.json")
		require.NoError(t, err)
		require.Len(t, found, len(names), "calls in %s", l)
		for _, name := range names {
			data, err := fs.ReadFile(scenarios.FS, name)
			require.NoError(t, err)
			english, err := scenario.Decode(name, data)
			require.NoError(t, err)
			data, err = fs.ReadFile(scenarios.Told, string(l)+"/"+name)
			require.NoError(t, err)
			told, err := ReadCall(name, data)
			require.NoError(t, err)
			require.Len(t, told.Notes, len(english.Notes), "%s: notes", name)
			figures := number.FindAllString(strings.ReplaceAll(english.House, "1.5", "1½"), -1)
			require.Equal(t, figures, number.FindAllString(told.House, -1), "%s: house", name)
			for i, text := range slices.Concat([]string{told.Title, told.Customer, told.Complaint, told.House}, told.Notes) {
				require.NotRegexp(t, `(?i)\b(the|and|water|family|of|with)\b`, text, "%s: text %d", name, i)
			}
		}
	}
}

func TestACallsFileIsReadStrictly(t *testing.T) {
	const good = `{"title": "a", "customer": "b", "complaint": "c", "house": "d", "notes": ["e"]}`
	c, err := ReadCall("x.json", []byte(good))
	require.NoError(t, err)
	require.Equal(t, Call{"a", "b", "c", "d", []string{"e"}}, c)
	_, err = ReadCall("x.json", []byte(`{"title": "", "complaint": 3, "house": "d", "extra": 1}`))
	for _, fault := range []string{"x.json: title", "x.json: customer", "x.json: complaint", "x.json: extra"} {
		require.ErrorContains(t, err, fault)
	}
}
