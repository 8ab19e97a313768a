package study_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/study"
)

const playText = `{"call":"a","seed":"1","hash":"00000000000000ff","started_s":100,"ended_s":200,"score":71.5,` +
	`"economy":0.4,"minutes":42,"hints":0,"shown":false,"named":"none","true":["nozzle-plugged"]}`

func fileOf(plays ...string) string {
	return `{"format":"brinebench-progress-1","plays":[` + strings.Join(plays, ",") + `]}`
}

func TestFileGivesBackTheRecord(t *testing.T) {
	full := played("b", 3, 33.3)
	full.Seed, full.Hash, full.Hints, full.Shown, full.Named, full.True = math.MaxUint64, math.MaxUint64, 2, true, "", nil
	for _, p := range []*study.Progress{progressOf(), progressOf(played("a", 1, 80), full)} {
		got, err := study.Decode("p.json", p.Encode())
		require.NoError(t, err)
		require.Equal(t, p, &got)
	}
	got, err := study.Decode("p.json", []byte(fileOf(playText)))
	require.NoError(t, err)
	require.Equal(t, fileOf(playText), string(got.Encode()))
}

func TestPlaysTwiceInAFileAreOne(t *testing.T) {
	p, err := study.Decode("p.json", []byte(fileOf(playText, playText)))
	require.NoError(t, err)
	require.Len(t, p.Plays, 1)
}

func TestFaultsOfAFileAreNamed(t *testing.T) {
	for _, row := range []struct{ old, with, want string }{
		{`brinebench-progress-1`, `brinebench-progress-2`, `p.json: format: "brinebench-progress-2" is none of`},
		{`"call":"a"`, `"call":"<b>"`, `p.json: plays[0].call: "<b>" is no id`},
		{`"call":"a"`, `"call":""`, `p.json: plays[0].call: "" is no id`},
		{`"call":"a",`, ``, `p.json: plays[0]: call is missing`},
		{`"seed":"1"`, `"seed":1`, `p.json: plays[0].seed: 1 is not a text`},
		{`"seed":"1"`, `"seed":"-1"`, `p.json: plays[0].seed: "-1" is no whole number`},
		{`00000000000000ff`, `fffffffffffffffff`, `p.json: plays[0].hash: "fffffffffffffffff" is no whole number`},
		{`"ended_s":200`, `"ended_s":99`, `p.json: plays[0].ended_s: 99 is before started_s, 100`},
		{`"ended_s":200`, `"ended_s":1e12`, `p.json: plays[0].ended_s: 1e12 is not a whole number`},
		{`"score":71.5`, `"score":101`, `p.json: plays[0].score: 101 is outside 0 to 100`},
		{`"economy":0.4`, `"economy":-1`, `p.json: plays[0].economy: -1 is outside 0 to 1`},
		{`"shown":false`, `"shown":0`, `p.json: plays[0].shown: 0 is not true or false`},
		{`"hints":0`, `"hints":0,"hints":0`, `p.json: plays[0].hints: given twice`},
		{`"hints":0`, `"hints":0,"card":{}`, `p.json: plays[0].card: unknown field`},
		{`["nozzle-plugged"]`, `["a","b","c","d","e"]`, `p.json: plays[0].true[4]: more than 4 faults`},
		{`["nozzle-plugged"]`, `null`, `p.json: plays[0].true: null`},
		{`]}]}`, `]}]} x`, `p.json: more follows the object`},
	} {
		text := fileOf(playText)
		require.Contains(t, text, row.old)
		_, err := study.Decode("p.json", []byte(strings.Replace(text, row.old, row.with, 1)))
		require.ErrorContains(t, err, row.want)
	}
	_, err := study.Decode("p.json", []byte(strings.NewReplacer(`"score":71.5`, `"score":"x"`, `"hints":0`, `"hints":-1`).Replace(fileOf(playText))))
	require.ErrorContains(t, err, "score")
	require.ErrorContains(t, err, "hints", "all at once")
}

func TestFileIsBounded(t *testing.T) {
	_, err := study.Decode("p.json", bytes.Repeat([]byte(" "), study.MaxBytes+1))
	require.ErrorContains(t, err, "p.json: 1048577 bytes, more than the 1048576")
	many := make([]string, study.MaxPlays+1)
	for i := range many {
		many[i] = playText
	}
	_, err = study.Decode("p.json", []byte(fileOf(many...)))
	require.ErrorContains(t, err, fmt.Sprintf("p.json: plays[%d]: more than the %d plays", study.MaxPlays, study.MaxPlays))
}

// What a record can hold at most can be read again.
func TestFullestRecordFitsTheFile(t *testing.T) {
	longest := strings.Repeat("x", 64)
	p := &study.Progress{}
	for i := range study.MaxPlays {
		p.Plays = append(p.Plays, study.Play{
			Call: longest, Seed: math.MaxUint64, Hash: math.MaxUint64, StartedS: 4e9 - 10000 + int64(i), EndedS: 4e9,
			Score: 100.0 / 3, Economy: 1e-7 / 3, Minutes: 1e5 / 3.0, Hints: 1000, Named: longest,
			True: []string{longest, longest, longest, longest},
		})
	}
	text := p.Encode()
	require.Greater(t, len(text), study.MaxBytes*3/4, "the bound is not idle")
	got, err := study.Decode("p.json", text)
	require.NoError(t, err)
	require.Len(t, got.Plays, study.MaxPlays)
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(fileOf()))
	f.Add([]byte(fileOf(playText, playText)))
	f.Add([]byte(strings.Replace(fileOf(playText), "200", "4000000000", 1)))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := study.Decode("fuzz.json", data)
		if err != nil {
			require.ErrorContains(t, err, "fuzz.json")
			return
		}
		again, err := study.Decode("fuzz.json", p.Encode())
		require.NoError(t, err)
		require.Equal(t, p.Encode(), again.Encode())
		for _, x := range p.Plays {
			c := p.Card(x.Call)
			require.Greater(t, c.DueS, x.EndedS-1)
			require.False(t, math.IsNaN(c.Stability+c.Difficulty))
		}
	})
}
