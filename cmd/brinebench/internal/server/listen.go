package server

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"strconv"
	"syscall"
	"time"
)

// The ports tried in turn when no address is asked for.
const firstPort, lastPort = 8080, 8179

// listen opens the address asked for, or else the first free port. An address
// that was asked for and is taken is an error: somebody counts on it.
func listen(addr string) (net.Listener, error) {
	if addr != "" {
		return open(addr)
	}
	for port := firstPort; ; port++ {
		listener, err := open(net.JoinHostPort("localhost", strconv.Itoa(port)))
		if err == nil || port == lastPort || !errors.Is(err, syscall.EADDRINUSE) {
			return listener, err
		}
	}
}

// patience is how long a peer may be silent that has something to answer: one that has
// gone without a word is noticed then.
const patience = 30 * time.Second

func open(addr string) (net.Listener, error) {
	config := net.ListenConfig{
		KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: patience / 2, Interval: patience / 6, Count: 3},
		Control: func(_, _ string, c syscall.RawConn) (err error) {
			errControl := c.Control(func(fd uintptr) { err = impatient(fd) })
			return errors.Join(err, errControl)
		},
	}
	return config.Listen(context.Background(), "tcp", addr)
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

// secured puts TLS with a given certificate on a listener.
func secured(listener net.Listener, certFile, keyFile string) (net.Listener, error) {
	cert, err := tls.LoadX509KeyPair(certFile, keyFile)
	if err != nil {
		return nil, err
	}
	return tls.NewListener(listener, &tls.Config{Certificates: []tls.Certificate{cert}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}}), nil
}

// serve answers requests until ctx ends, then lets those under way finish. Streams end
// by themselves, as beside runs until ctx ends and ends them.
func serve(ctx context.Context, listener net.Listener, handler http.Handler, log *slog.Logger, beside func(ctx context.Context)) error {
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       time.Minute,      // streams have no end; the classroom says so itself
		WriteTimeout:      10 * time.Minute, // the page's program, over a slow line
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelDebug), // of peers that speak no HTTP
	}
	inner, stop := context.WithCancel(ctx)
	rested := make(chan bool)
	go func() { beside(inner); close(rested) }()
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	var err error
	select {
	case err = <-failed:
	case <-ctx.Done():
		grace, cancel := context.WithTimeout(context.Background(), 3*time.Second)
		defer cancel()
		if err = server.Shutdown(grace); errors.Is(err, context.DeadlineExceeded) {
			err = server.Close()
		}
	}
	stop()
	<-rested
	return err
}
