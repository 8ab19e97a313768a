package main

import (
	"errors"
	"flag"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDispatchPicksTheCommandAndItsExitStatus(t *testing.T) {
	saved := commands
	t.Cleanup(func() { commands = saved })
	commands = []command{
		{"echo", "print the arguments", func(args []string, out io.Writer) error {
			_, err := io.WriteString(out, strings.Join(args, " "))
			return err
		}},
		{"fail", "fail", func([]string, io.Writer) error { return errors.New("case.json: bed.void: not above 0") }},
		{"ask", "ask for help", func([]string, io.Writer) error { return flag.ErrHelp }},
	}
	tests := []struct {
		args            []string
		status          int
		out, complaints string
	}{
		{nil, 2, "", "Usage"},
		{[]string{"help"}, 0, "print the arguments", ""},
		{[]string{"--help"}, 0, "Usage", ""},
		{[]string{"echo", "a", "-b"}, 0, "a -b", ""},
		{[]string{"fail"}, 2, "", "brinebench fail: case.json: bed.void: not above 0"},
		{[]string{"ask"}, 0, "", ""},
		{[]string{"ech"}, 2, "", `unknown command "ech"`},
	}
	for _, test := range tests {
		t.Run(strings.Join(test.args, " "), func(t *testing.T) {
			var out, complaints strings.Builder
			require.Equal(t, test.status, dispatch(test.args, &out, &complaints))
			requireHas(t, test.out, out.String())
			requireHas(t, test.complaints, complaints.String())
		})
	}
}

func requireHas(t *testing.T, want, got string) {
	t.Helper()
	if want == "" {
		require.Empty(t, got)
		return
	}
	require.Contains(t, got, want)
}
