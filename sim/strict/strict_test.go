package strict_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/strict"
)

// sample reads {"n": 0..10, "k": 1..3, "t": "a"|"b", "o": {"n": 0..1}, "l": [text…], "x": optional text}.
func sample(data string) ([]string, error) {
	var n, inner float64
	var k int
	var text, extra string
	var list []string
	w := &strict.Walk{}
	optional := w.Text("x", &extra)
	optional.Optional = true
	w.Members("", []byte(data), []strict.Field{
		w.Number("n", &n, 0, 10), w.Integer("k", &k, 1, 3), w.Text("t", &text, "a", "b"),
		w.Object("o", w.Number("n", &inner, 0, 1)),
		w.Each("l", func(at string, raw []byte) {
			var s string
			if w.Value(at, raw, &s) {
				list = append(list, s)
			}
		}),
		optional,
	})
	return list, w.Err("f.json")
}

const sound = `{"n": 5, "k": 2, "t": "a", "o": {"n": 0.5}, "l": ["p", "q"]}`

func TestSoundTextIsRead(t *testing.T) {
	list, err := sample(sound)
	require.NoError(t, err)
	require.Equal(t, []string{"p", "q"}, list)
}

func TestFaultsAreNamedByPath(t *testing.T) {
	for _, row := range []struct{ situation, old, with, want string }{
		{"outside", `"n": 5`, `"n": 11`, "f.json: n: 11 is outside 0 to 10"},
		{"inner outside", `0.5`, `2`, "f.json: o.n: 2 is outside 0 to 1"},
		{"not whole", `"k": 2`, `"k": 2.5`, "f.json: k: 2.5 is not a whole number in digits"},
		{"no number", `"n": 5`, `"n": "five"`, "f.json: n: five is not a finite number"},
		{"beyond a double", `"n": 5`, `"n": 1e400`, "f.json: n: 1e400 is not a finite number"},
		{"deep", `"n": 5`, `"n": ` + strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "f.json: n: " + strings.Repeat("[", 40) + " is not a finite number"},
		{"deeper", `"n": 5`, `"n": ` + strings.Repeat("[", 90000), "f.json: invalid character '[' exceeded max depth"},
		{"whole outside", `"k": 2`, `"k": 9`, "f.json: k: 9 is outside 1 to 3"},
		{"not allowed", `"a"`, `"z"`, `f.json: t: "z" is none of ["a" "b"]`},
		{"empty", `"a"`, `""`, "f.json: t: empty"},
		{"item of another kind", `"q"`, `7`, "f.json: l[1]: 7 is not a text"},
		{"list of another kind", `["p", "q"]`, `"p"`, "f.json: l: p is not a list"},
		{"object of another kind", `{"n": 0.5}`, `3`, "f.json: o: not an object"},
		{"null", `"n": 5`, `"n": null`, "f.json: n: null"},
		{"unknown", `"n": 5`, `"n": 5, "m": 1`, "f.json: m: unknown field"},
		{"twice", `"n": 5`, `"n": 5, "n": 5`, "f.json: n: given twice"},
		{"missing", `"n": 5, `, ``, "f.json: n is missing"},
		{"cut off", `]}`, ``, "f.json: "},
		{"more", `]}`, `]} 1`, "f.json: more follows the object"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			_, err := sample(strings.Replace(sound, row.old, row.with, 1))
			require.ErrorContains(t, err, row.want)
		})
	}
}

func TestAllFaultsAreToldAtOnce(t *testing.T) {
	_, err := sample(`{"n": 99, "k": 9, "t": "z", "o": {}, "y": 1}`)
	require.Len(t, strings.Split(err.Error(), "\n"), 6, "%v", err)
}
