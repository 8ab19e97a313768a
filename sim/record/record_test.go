package record

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tinylib/msgp/msgp"
)

func sample() Recording {
	return Recording{
		Version: Version, Engine: "engine 1", Name: "hard-water", Scenario: []byte(`{"id": "hard-water"}`),
		Seed: math.MaxUint64, Ticks: 7200, Hash: 0xcbf29ce484222325,
		Acts: []Act{
			{Tick: 0, Kind: "test", ID: "hardness-house"},
			{Tick: 0, Kind: "shut-off", Value: 1},
			{Tick: 480, Kind: "open", Part: "injector"},
			{Tick: 960, Kind: "plan", ID: "nozzle-plugged", Text: "grit in the nozzle\nno draw"},
			{Tick: 7200, Kind: "diagnose", ID: "nozzle-plugged", Value: 0.9},
		},
	}
}

func TestRecordingComesBackWhole(t *testing.T) {
	for name, r := range map[string]Recording{
		"a call":  sample(),
		"no acts": {Version: Version, Engine: "e", Name: "n", Scenario: []byte("{}")},
	} {
		data, err := Encode(r)
		require.NoError(t, err, name)
		back, err := Decode(data)
		require.NoError(t, err, name)
		require.Equal(t, r, back, name)
	}
}

func TestEncodeSetsTheVersion(t *testing.T) {
	r := sample()
	r.Version = 0
	data, err := Encode(r)
	require.NoError(t, err)
	back, err := Decode(data)
	require.NoError(t, err)
	require.Equal(t, Version, back.Version)
}

// Bytes of version 2 as they were first written; a change of format needs a new
// version.
func TestFormatIsKept(t *testing.T) {
	want, err := Encode(sample())
	require.NoError(t, err)
	file := filepath.Join("testdata", "v2.msgp")
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, want, got)
}

func TestDecodeNamesEverythingWrong(t *testing.T) {
	r := sample()
	r.Engine, r.Name, r.Scenario = "", strings.Repeat("x", MaxName+1), nil
	r.Acts = []Act{
		{Tick: -1, Kind: "a"},
		{Tick: 50, Kind: ""},
		{Tick: 49, Kind: "a", Part: "\xff"},
		{Tick: 9000, Kind: "a", ID: strings.Repeat("x", MaxName+1), Value: math.NaN()},
		{Tick: 9000, Kind: "a", Value: math.Inf(-1)},
		{Tick: 9000, Kind: "a", Text: strings.Repeat("x", MaxText+1)},
		{Tick: 9000, Kind: "a", Text: "\xff"},
		{Tick: 9000, Kind: "a", Text: "a\x00b"},
	}
	data, err := r.MarshalMsg(nil)
	require.NoError(t, err)
	for _, try := range []func() error{
		func() error { _, err := Decode(data); return err },
		func() error { _, err := Encode(r); return err },
	} {
		err = try()
		for _, want := range []string{
			"engine: empty", "name: 129 bytes", "scenario: empty",
			"acts[0].tick: -1, below 0", "acts[1].kind: empty", "acts[2].tick: 49, out of order after 50",
			"acts[2].part: not UTF-8", "acts[3].tick: 9000, after the end at 7200", "acts[3].id: 129 bytes",
			"acts[3].value: NaN", "acts[4].value: -Inf",
			"acts[5].text: 401 bytes", "acts[6].text: not UTF-8", "acts[7].text: control characters",
		} {
			require.ErrorContains(t, err, want)
		}
	}
}

func TestDecodeTellsSoManyReasonsAndNoMore(t *testing.T) {
	r := sample()
	r.Acts = make([]Act, 1000)
	_, err := Encode(r)
	require.ErrorContains(t, err, "and 980 more")
	require.Len(t, strings.Split(err.Error(), "\n"), maxReasons+1)
}

func TestDecodeRefusesDamage(t *testing.T) {
	whole, err := Encode(sample())
	require.NoError(t, err)
	for n := range whole {
		_, err := Decode(whole[:n])
		require.ErrorContains(t, err, "recording: ", "cut to %d bytes", n)
	}
	header := func(fields uint32, version int) []byte {
		return msgp.AppendInt(msgp.AppendArrayHeader(nil, fields), version)
	}
	upToActs := func() []byte {
		b := header(8, Version)
		b = msgp.AppendString(b, "e")
		b = msgp.AppendString(b, "n")
		b = msgp.AppendBytes(b, []byte("{}"))
		b = msgp.AppendUint64(b, 1)
		b = msgp.AppendInt64(b, 1)
		return msgp.AppendUint64(b, 1)
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "not a recording"},
		{"JSON", []byte(`{"version":1}`), "not a recording"},
		{"another version", header(9, 3), "version: 3, this program reads 2"},
		{"version no number", msgp.AppendString(msgp.AppendArrayHeader(nil, 8), "1"), "version: "},
		{"a field short", header(7, Version), "7 fields, want 8"},
		{"trailing bytes", append(append([]byte{}, whole...), 0, 0), "2 bytes after the end"},
		{"too long a file", make([]byte, MaxBytes+1), "more than 4194304"},
		{"too many acts", msgp.AppendArrayHeader(upToActs(), MaxActs+1), "acts: 2001, more than 2000"},
		{"acts that are not there", msgp.AppendArrayHeader(upToActs(), MaxActs), "acts: 2000 said, cut off"},
		{"acts no array", msgp.AppendInt(upToActs(), 3), "acts: "},
		{"scenario of 4 GB", append(msgp.AppendString(msgp.AppendString(header(8, Version), "e"), "n"), 0xc6, 0xff, 0xff, 0xff, 0xff), "scenario: "},
		{"engine no text", msgp.AppendArrayHeader(append(header(8, Version), 1, 1, 1, 1, 1, 1), 0), "Engine"},
	} {
		_, err := Decode(c.data)
		require.ErrorContains(t, err, c.want, c.name)
	}
}

func TestRecordingTooLongIsNotWritten(t *testing.T) {
	r := sample()
	r.Scenario = make([]byte, MaxBytes)
	_, err := Encode(r)
	require.ErrorContains(t, err, "more than 4194304")
	r = sample()
	r.Acts = make([]Act, MaxActs+1)
	_, err = Encode(r)
	require.ErrorContains(t, err, "acts: 2001")
}

// Whatever Decode takes, Encode writes, and it comes back the same.
func FuzzDecode(f *testing.F) {
	whole, err := Encode(sample())
	require.NoError(f, err)
	f.Add(whole)
	f.Add(whole[:len(whole)/2])
	f.Add(append(append([]byte{}, whole...), 0xc0))
	f.Add([]byte{0x98, 0x01})
	f.Add([]byte(`{}`))
	for i := 0; i < len(whole); i += 7 {
		bent := append([]byte{}, whole...)
		bent[i] ^= 0x80
		f.Add(bent)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Decode(data)
		if err != nil {
			require.Equal(t, Recording{}, r)
			return
		}
		again, err := Encode(r)
		require.NoError(t, err)
		back, err := Decode(again)
		require.NoError(t, err)
		require.Equal(t, r, back)
	})
}
