package web

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strconv"
	"syscall"
	"time"
)

// The ports tried in turn when no address is asked for.
const firstPort, lastPort = 8080, 8179

// Command is `brinebench serve`: it serves a built site in the foreground until
// it is interrupted.
func Command(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	dir := flags.String("dir", "build/site", "directory of the built site")
	addr := flags.String("addr", "", "host:port to listen on (default: localhost, the first free port from 8080)")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("serve: unexpected argument %q", flags.Arg(0))
	}
	site, err := Load(os.DirFS(*dir))
	if err != nil {
		return fmt.Errorf("%s: %w", *dir, err)
	}
	listener, err := listen(*addr)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	fmt.Fprintf(out, "Brinebench is at http://%s/ (Ctrl-C to stop)\n", visible(listener.Addr()))
	return serve(ctx, listener, site)
}

// listen opens the address asked for, or else the first free port. An address
// that was asked for and is taken is an error: somebody counts on it.
func listen(addr string) (net.Listener, error) {
	if addr != "" {
		return net.Listen("tcp", addr)
	}
	for port := firstPort; ; port++ {
		listener, err := net.Listen("tcp", net.JoinHostPort("localhost", strconv.Itoa(port)))
		if err == nil || port == lastPort || !errors.Is(err, syscall.EADDRINUSE) {
			return listener, err
		}
	}
}

// visible writes a listening address as a browser on this machine should use it.
func visible(addr net.Addr) string {
	host, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return addr.String()
	}
	if ip := net.ParseIP(host); ip != nil && (ip.IsLoopback() || ip.IsUnspecified()) {
		host = "localhost"
	}
	return net.JoinHostPort(host, port)
}

// serve answers requests until ctx ends, then lets those under way finish.
func serve(ctx context.Context, listener net.Listener, handler http.Handler) error {
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 10 * time.Second,
		IdleTimeout:       2 * time.Minute,
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	return server.Shutdown(grace)
}
