// Package cross builds the engine for the processors it runs on and holds it to
// the same bits on all of them.
package cross

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	root       = "../../../.."
	switchedOn = "BRINEBENCH_FULL" // as in package e2e
)

func needAll(t *testing.T) {
	t.Helper()
	if os.Getenv(switchedOn) == "" {
		t.Skip("skipped: make test runs this, with node and qemu")
	}
}

// target is a way to build and run the command.
type target struct {
	name string
	env  []string
	exec []string // what runs the program, when the machine does not by itself
}

// targets are what must agree: the three processors, and amd64 with fused
// multiply-add besides.
func targets(t *testing.T) []target {
	t.Helper()
	all := []target{
		{"wasm", []string{"GOOS=js", "GOARCH=wasm"}, []string{filepath.Join(goroot(t), "lib/wasm/go_js_wasm_exec")}},
		{"arm64", []string{"GOOS=linux", "GOARCH=arm64"}, []string{"qemu-aarch64-static"}},
		{"amd64", []string{"GOOS=linux", "GOARCH=amd64", "GOAMD64=v1"}, []string{"qemu-x86_64-static"}},
		{"amd64-v3", []string{"GOOS=linux", "GOARCH=amd64", "GOAMD64=v3"}, []string{"qemu-x86_64-static", "-cpu", "max"}},
	}
	for i := range all {
		if arch, _, _ := strings.Cut(all[i].name, "-"); arch == runtime.GOARCH {
			all[i].exec = nil
		}
	}
	return all
}

func goroot(t *testing.T) string {
	t.Helper()
	out, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return strings.TrimSpace(string(out))
}

// build compiles the command for a target and returns the program's path.
func build(t *testing.T, to target) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "brinebench-"+to.name)
	cmd := exec.Command("go", "build", "-tags", "headless", "-buildvcs=false", "-o", program, "./cmd/brinebench")
	cmd.Dir = root
	cmd.Env = append(append(os.Environ(), "CGO_ENABLED=0"), to.env...)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

// judged is the recording whose score is compared as well as its hash, on wasm and amd64.
const judged = "expert.msgp"

func TestReplaysEndInTheSameStateOnEveryProcessor(t *testing.T) {
	needAll(t)
	recordings, err := filepath.Glob(filepath.Join(root, "testdata/replays/*.msgp"))
	require.NoError(t, err)
	require.NotEmpty(t, recordings, "recordings in testdata/replays")
	all := targets(t)
	programs := make([]string, len(all))
	for i := range all {
		programs[i] = build(t, all[i])
	}
	for _, recording := range recordings {
		t.Run(filepath.Base(recording), func(t *testing.T) {
			var first string
			for i := range all {
				line := append(append([]string{}, all[i].exec...), programs[i], "replay", recording)
				// Judging takes minutes under emulation; that no product is fused there, nor
				// with what the newer amd64 has, the next test shows.
				brief := filepath.Base(recording) != judged || strings.HasPrefix(line[0], "qemu") || all[i].name == "amd64-v3"
				if brief {
					line = append(line, "--hash-only")
				}
				cmd := exec.Command(line[0], line[1:]...)
				var complaints bytes.Buffer
				cmd.Stderr = &complaints
				out, err := cmd.Output()
				require.NoError(t, err, "%s: %s", all[i].name, complaints.String())
				require.NotEmpty(t, strings.TrimSpace(string(out)), all[i].name)
				if i == 0 {
					first = string(out)
					t.Log(first)
				}
				want := first
				if brief {
					want, _, _ = strings.Cut(first, "\n")
				}
				require.Equal(t, strings.TrimSpace(want), strings.TrimSpace(string(out)), "%s against %s", all[i].name, all[0].name)
			}
		})
	}
}

// A line of go tool objdump: file:line, address, code, instruction. TEXT starts
// the listing of a function.
var fused = regexp.MustCompile(`\sV?FN?M(ADD|SUB|LA|LS)[SDH]?\s`)

func TestArm64BuildOfTheEngineFusesNothing(t *testing.T) {
	needAll(t)
	program := build(t, target{"arm64", []string{"GOOS=linux", "GOARCH=arm64"}, nil})
	out, err := exec.Command("go", "tool", "objdump", "-s", `^brinebench/sim`, program).Output()
	require.NoError(t, err)
	functions := 0
	for line := range strings.Lines(string(out)) {
		switch {
		case strings.HasPrefix(line, "TEXT "):
			functions++
		case fused.MatchString(line):
			t.Errorf("multiplies and adds in one rounding: %s", strings.TrimSpace(line))
		}
	}
	require.Greater(t, functions, 100, "functions of the engine in the program")
}

func TestFusedKnowsTheInstructions(t *testing.T) {
	for line, want := range map[string]bool{
		"  rate.go:31\t0x11f2c4\t1f420c21\tFMADDD F2, F3, F1, F1":  true,
		"  rate.go:31\t0x11f2c4\t1f428c21\tFMSUBD F2, F3, F1, F1":  true,
		"  rate.go:31\t0x11f2c4\t1f620c21\tFNMADDD F2, F3, F1, F1": true,
		"  rate.go:31\t0x11f2c4\t1f620c21\tFNMSUBS F2, F3, F1, F1": true,
		"  rate.go:31\t0x11f2c4\t1e620821\tFMULD F2, F1, F1":       false,
		"  rate.go:31\t0x11f2c4\t1e622821\tFADDD F2, F1, F1":       false,
		"  rate.go:31\t0x11f2c4\t1e604020\tFMOVD F1, F0":           false,
	} {
		require.Equal(t, want, fused.MatchString(line), line)
	}
}
