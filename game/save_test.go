package game

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func aSave() *Save {
	return &Save{
		Recording: bytes.Repeat([]byte{1, 200}, 3000), Pace: 60, Section: "cause", Part: "injector",
		Fields: map[string]string{"confidence": "80", "fault": "nozzle-plugged", "note": "Wasser – 硬"},
		Report: json.RawMessage(`{"Score":71.5}`),
	}
}

func TestASavedCallReadsBack(t *testing.T) {
	g := Glance{Judged: true, Minutes: 61.25, SavedMS: 1796432400123}
	text, err := aSave().Text(g)
	require.NoError(t, err)
	back, err := ReadSave(text)
	require.NoError(t, err)
	require.Equal(t, aSave(), back)
	head, err := ReadGlance(text)
	require.NoError(t, err)
	require.Equal(t, g, head)
}

func TestDamagedSavesAreRefused(t *testing.T) {
	text, err := aSave().Text(Glance{})
	require.NoError(t, err)
	for _, bad := range []string{
		"", " ", "call-1", "call-1 true", "call-0" + text[6:], text[:len(text)/2], text[:len(text)-4],
		strings.Repeat("x", MaxSaveText+1), text[:40] + "!" + text[41:],
	} {
		_, err := ReadSave(bad)
		require.ErrorContains(t, err, "kept call", "%.40q", bad)
	}
}

func TestSavesOutOfBoundsAreRefused(t *testing.T) {
	for field, spoil := range map[string]func(*Save){
		"recording": func(s *Save) { s.Recording = nil },
		"pace":      func(s *Save) { s.Pace = 7 },
		"section":   func(s *Save) { s.Section = strings.Repeat("s", 200) },
		"part":      func(s *Save) { s.Part = sim.Part(strings.Repeat("p", 200)) },
		"fields":    func(s *Save) { s.Fields["note"] = strings.Repeat("n", MaxFieldText+1) },
	} {
		s := aSave()
		spoil(s)
		_, err := s.Text(Glance{})
		require.ErrorContains(t, err, "kept call: "+field)
		plain, err := json.Marshal(s)
		require.NoError(t, err)
		_, err = ReadSave("call-1 false 0 0 " + pack(t, plain))
		require.ErrorContains(t, err, "kept call: "+field)
	}
}

// A few bytes can unpack to very many.
func TestABombOfASaveIsRefused(t *testing.T) {
	text := "call-1 false 0 0 " + pack(t, make([]byte, maxSaveJSON+2))
	require.Less(t, len(text), MaxSaveText)
	_, err := ReadSave(text)
	require.ErrorContains(t, err, "unpacks to more")
}

func pack(t *testing.T, plain []byte) string {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write(plain)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return base64.StdEncoding.EncodeToString(b.Bytes())
}
