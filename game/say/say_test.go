package say

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// requireNoTwins holds that an object gives no key twice.
func requireNoTwins(t *testing.T, data []byte) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	_, err := d.Token()
	require.NoError(t, err)
	seen := map[string]bool{}
	for d.More() {
		key, err := d.Token()
		require.NoError(t, err)
		require.False(t, seen[key.(string)], "twice: %v", key)
		seen[key.(string)] = true
		var value json.RawMessage
		require.NoError(t, d.Decode(&value))
	}
}

func TestNumbersAreWrittenInTheWayOfTheLanguage(t *testing.T) {
	tests := []struct {
		x                float64
		decimals         int
		english, spanish string // American Spanish writes them as English does
	}{
		{0, 1, "0.0", "0,0"},
		{-0.04, 1, "0.0", "0,0"},
		{-0.5, -1, "−0.5", "−0,5"},
		{1234, 0, "1,234", "1234"},
		{12345.678, 2, "12,345.68", "12\u00a0345,68"},
		{1234567, 0, "1,234,567", "1\u00a0234\u00a0567"},
	}
	for _, test := range tests {
		speak(t, English)
		require.Equal(t, test.english, Number(test.x, test.decimals))
		speak(t, Spanish)
		require.Equal(t, test.spanish, Number(test.x, test.decimals))
		speak(t, AmericanSpanish)
		require.Equal(t, test.english, Number(test.x, test.decimals))
	}
}

// TestSpanishIsWrittenAsItsReadersDo names the language of tags, and puts one where a browser is.
func TestSpanishIsWrittenAsItsReadersDo(t *testing.T) {
	for _, row := range []struct {
		tag, here string
		want      Lang
	}{
		{"es", "", Spanish},
		{"es", "es-ES", Spanish},
		{"es-AR", "", Spanish},
		{"es-MX", "", AmericanSpanish},
		{"es-Latn-mx", "", AmericanSpanish},
		{"es-419", "", AmericanSpanish},
		{"es", "es-PE", AmericanSpanish},
		{"es", "en-US", AmericanSpanish},
		{"es", "en-US@posix", AmericanSpanish},
		{"es", "en-GB", Spanish},
		{"en", "es-MX", English},
		{"de-US", "en-US", English},
	} {
		require.Equal(t, row.want, Named(row.tag).Near(row.here), "%+v", row)
	}
	for _, l := range []Lang{Spanish, AmericanSpanish} {
		require.Equal(t, Spanish, l.Words())
		speak(t, l)
		require.Equal(t, "Siguiente pregunta", Text("cycle.next"))
	}
	const american = "Softening adds 1.9 mg/L of sodium to the 2 mg/L of the raw water: 3.9 mg/L in all. Who is on a diet low in sodium asks a doctor; an untreated tap for drinking is a way out."
	require.Contains(t, Sim(american), "agrega 1.9 mg/L")
	require.Contains(t, Sim("rinse 0.2 to 0.5 gpm/ft³, 8 to 14 % of salt"), "de 0.2 a 0.5", "the catalogue's own figures")
	speak(t, Spanish)
	require.Contains(t, Sim(american), "agrega 1,9 mg/L")
	require.Contains(t, Sim("rinse 0.2 to 0.5 gpm/ft³, 8 to 14 % of salt"), "de 0,2 a 0,5")
}

// A server answers several at once, each in their own language.
func TestTimeThatRunsDownCountsWhatIsBegun(t *testing.T) {
	require.Equal(t, "5:00 min", TimeLeft(299.2))
	require.Equal(t, "0:00 min", TimeLeft(-1))
	require.Equal(t, "1 h 40 min", TimeLeft(6000))
}

func TestVoicesSpeakTheirOwnLanguages(t *testing.T) {
	titles := map[string]string{"es": "Agua dura en la casa del molino"}
	for l, want := range map[Lang][]string{
		English: {"Name", "95.2", "Downflow brining", "Hard water at the mill house"},
		Spanish: {"Nombre", "95,2", "Salmuera descendente", "Agua dura en la casa del molino"},
	} {
		for _, page := range Langs {
			speak(t, page)
			v := In(l)
			require.Equal(t, want, []string{v.Text("board.name"), v.Number(95.17, 1), v.Title("Downflow brining", nil), v.Title("Hard water at the mill house", titles)})
			require.Equal(t, page, Spoken())
		}
	}
	speak(t, Spanish)
	require.Equal(t, titles["es"], Title("Hard water at the mill house", titles))
}

func TestTagsNameALanguageOrFallBackOnEnglish(t *testing.T) {
	for tag, l := range map[string]Lang{"es": Spanish, "es-419": AmericanSpanish, "ES-mx": AmericanSpanish, "es-CL": Spanish, "en-GB": English, "fr": English, "": English, "est": English} {
		require.Equal(t, l, Named(tag), tag)
	}
}

func TestCountsChooseThePlural(t *testing.T) {
	speak(t, Spanish)
	require.Equal(t, "1 lectura", Text("n.readings", 1))
	require.Equal(t, "0 lecturas", Text("n.readings", 0))
	require.Equal(t, "2 lecturas", Text("n.readings", 2))
	speak(t, English)
	require.Equal(t, "1 reading", Text("n.readings", 1))
	require.Equal(t, "11 readings", Text("n.readings", 11))
	require.Panics(t, func() { Text("no.such-text") })
}

func TestASentenceEndsOnce(t *testing.T) {
	for text, want := range map[string]string{"": "", "It runs": "It runs.", "It runs.": "It runs.", "Does it run?": "Does it run?", "It runs!": "It runs!", "Open:": "Open:"} {
		require.Equal(t, want, Ended(text))
	}
}
