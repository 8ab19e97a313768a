// Package load puts a whole class on a server that runs as a program of its own: many
// trainees with bad lines, and a server that is killed. The short form is part of
// make test; DEVELOPERS.md tells how to run the long one.
package load

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/server"
	"brinebench/cmd/brinebench/internal/store/storetest"
)

var (
	trainees = flag.Int("trainees", 8, "trainees in the class")
	seconds  = flag.Float64("seconds", 3, "length of the class, s")
	kills    = flag.Int("kills", 1, "times that the server is killed")
	judged   = flag.Int("judged", 0, "scores that are compared with sim.Judge, beside the server's own way")
)

// servesInstead is set where the test's own program is run as the server.
const servesInstead = "BRINEBENCH_LOAD_SERVES"

func TestMain(m *testing.M) {
	if args := os.Getenv(servesInstead); args != "" {
		if err := server.Command(strings.Split(args, "\n"), os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(2)
		}
		os.Exit(0)
	}
	os.Exit(storetest.Run(m))
}

// process is a server.
type process struct {
	t     *testing.T
	url   string
	args  []string
	cmd   *exec.Cmd
	setup string // code for the first password, of the first start
}

// usage is what a process has taken.
type usage struct {
	cpu    time.Duration
	peakKB int
}

// start starts a server on a store and waits until it answers.
func start(t *testing.T, address string) *process {
	t.Helper()
	site := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(site, "index.html"), []byte("here"), 0o644))
	free, err := net.Listen("tcp", "localhost:0")
	require.NoError(t, err)
	addr := free.Addr().String()
	require.NoError(t, free.Close())
	p := &process{t: t, url: "http://" + addr, args: []string{"-dir", site, "-addr", addr, "-data", address, "-log", "json"}}
	p.run()
	t.Cleanup(p.stop)
	return p
}

func (p *process) run() {
	p.t.Helper()
	p.cmd = exec.Command(os.Args[0])
	p.cmd.Env = append(os.Environ(), servesInstead+"="+strings.Join(p.args, "\n"))
	p.cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL} // a test that is broken off leaves nothing running
	out, err := p.cmd.StdoutPipe()
	require.NoError(p.t, err)
	log, err := os.CreateTemp(p.t.TempDir(), "log")
	require.NoError(p.t, err)
	p.cmd.Stderr = log
	require.NoError(p.t, p.cmd.Start())
	require.NoError(p.t, log.Close())
	told := make([]byte, 1000)
	n, err := io.ReadAtLeast(out, told, len("Brinebench is at"))
	require.NoError(p.t, err)
	require.Eventually(p.t, func() bool {
		response, err := http.Get(p.url + "/healthz")
		if err != nil {
			return false
		}
		response.Body.Close()
		return response.StatusCode == http.StatusOK
	}, time.Minute, 20*time.Millisecond)
	if p.setup == "" {
		code := regexp.MustCompile(`code ([A-Z0-9-]+)`)
		for !code.Match(told[:n]) {
			more, err := out.Read(told[n:])
			require.NoError(p.t, err)
			n += more
		}
		p.setup = string(code.FindSubmatch(told[:n])[1])
	}
	go io.Copy(io.Discard, out)
}

// kill ends the server as a power cut would end it.
func (p *process) kill() {
	p.cmd.Process.Kill()
	p.cmd.Wait()
}

// stop ends it as an operator does.
func (p *process) stop() {
	p.cmd.Process.Signal(syscall.SIGTERM)
	if err := p.cmd.Wait(); err != nil {
		p.t.Errorf("the server ended with %v", err)
	}
}

// usage reads what the kernel has counted of the process (proc(5)).
func (p *process) usage() (used usage) {
	proc := fmt.Sprintf("/proc/%d/", p.cmd.Process.Pid)
	if stat, err := os.ReadFile(proc + "stat"); err == nil {
		fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
		for _, f := range fields[11:13] {
			const ticksPerS = 100 // sysconf(_SC_CLK_TCK) on Linux
			n, _ := strconv.Atoi(f)
			used.cpu += time.Duration(n) * time.Second / ticksPerS
		}
	}
	if status, err := os.ReadFile(proc + "status"); err == nil {
		if m := regexp.MustCompile(`VmHWM:\s+(\d+)`).FindSubmatch(status); m != nil {
			used.peakKB, _ = strconv.Atoi(string(m[1]))
		}
	}
	return used
}

// browser asks a server as a page does.
type browser struct {
	http.Client
	url string
}

func newBrowser(url string) *browser {
	jar, _ := cookiejar.New(nil) // never fails
	return &browser{http.Client{Jar: jar, Timeout: 10 * time.Second}, url}
}

// ask sends a value as JSON and reads one. Status 0 tells that no answer came.
func (b *browser) ask(method, path string, value, into any) (status int, err error) {
	var body io.Reader
	if value != nil {
		data, err := json.Marshal(value)
		if err != nil {
			return 0, err
		}
		body = bytes.NewReader(data)
	}
	q, err := http.NewRequest(method, b.url+path, body)
	if err != nil {
		return 0, err
	}
	q.Header.Set("Content-Type", "application/json")
	response, err := b.Do(q)
	if err != nil {
		return 0, err
	}
	defer response.Body.Close()
	data, err := io.ReadAll(response.Body)
	if err != nil {
		return 0, err
	}
	if response.StatusCode >= 300 {
		return response.StatusCode, fmt.Errorf("%s %s: %d %s", method, path, response.StatusCode, data)
	}
	if into != nil {
		err = json.Unmarshal(data, into)
	}
	return response.StatusCode, err
}

// again asks until there is an answer that is no "wait a moment" and no server's fault; a
// server that does not come back within a minute is one.
func (b *browser) again(method, path string, value, into any) error {
	began := time.Now()
	for wait := 20 * time.Millisecond; ; wait = min(2*wait, 500*time.Millisecond) {
		status, err := b.ask(method, path, value, into)
		if err == nil || status != 0 && status != http.StatusTooManyRequests && status < 500 || time.Since(began) > time.Minute {
			return err
		}
		time.Sleep(wait)
	}
}
