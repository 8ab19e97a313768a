package server

import (
	"context"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestListenPassesOverPortsThatAreTaken(t *testing.T) {
	first, err := listen("")
	require.NoError(t, err)
	defer first.Close()
	second, err := listen("")
	require.NoError(t, err)
	defer second.Close()
	require.Greater(t, second.Addr().(*net.TCPAddr).Port, first.Addr().(*net.TCPAddr).Port)
	require.True(t, second.Addr().(*net.TCPAddr).IP.IsLoopback())

	_, err = listen(first.Addr().String())
	require.ErrorIs(t, err, syscall.EADDRINUSE)
}

func TestVisibleNamesAnAddressThatABrowserCanUse(t *testing.T) {
	for given, want := range map[string]string{
		"127.0.0.1:8080": "localhost:8080",
		"[::1]:8080":     "localhost:8080",
		"0.0.0.0:9000":   "localhost:9000",
		"192.0.2.7:80":   "192.0.2.7:80",
	} {
		addr, err := net.ResolveTCPAddr("tcp", given)
		require.NoError(t, err)
		require.Equal(t, want, visible(addr))
	}
}

func TestServeLetsARequestUnderWayFinish(t *testing.T) {
	listener, err := listen("localhost:0")
	require.NoError(t, err)
	begun, proceed := make(chan bool), make(chan bool)
	handler := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		begun <- true
		<-proceed
		io.WriteString(w, "whole")
	})
	ctx, stop := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() {
		served <- serve(ctx, listener, handler, slog.New(slog.DiscardHandler), func(ctx context.Context) { <-ctx.Done() })
	}()

	answer := make(chan string, 1)
	go func() {
		response, err := http.Get("http://" + listener.Addr().String())
		if err != nil {
			answer <- err.Error()
			return
		}
		data, _ := io.ReadAll(response.Body)
		answer <- string(data)
	}()
	<-begun
	stop()
	close(proceed)
	require.Equal(t, "whole", <-answer)
	require.NoError(t, <-served)
}

func TestCommandServesUntilItIsTerminated(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "index.html"), []byte("here"), 0o644))
	reader, writer := io.Pipe()
	ended := make(chan error, 1)
	go func() { ended <- Command([]string{"-dir", dir, "-addr", "localhost:0"}, writer) }()

	line := make([]byte, 200)
	n, err := reader.Read(line)
	require.NoError(t, err)
	url := regexp.MustCompile(`http://localhost:\d+/`).FindString(string(line[:n]))
	require.NotEmpty(t, url, "the address is printed: %q", line[:n])
	response, err := http.Get(url)
	require.NoError(t, err)
	page, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	require.Equal(t, "here", string(page))

	require.NoError(t, syscall.Kill(os.Getpid(), syscall.SIGTERM))
	select {
	case err := <-ended:
		require.NoError(t, err)
	case <-time.After(5 * time.Second):
		t.Fatal("still serving")
	}
}

func TestCommandRefusesBadArguments(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"extra"}, {"-dir", t.TempDir()}, {"-dir", "/nowhere/at/all"}} {
		require.Error(t, Command(args, io.Discard), "%q", args)
	}
}
