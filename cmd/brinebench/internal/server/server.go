// Package server is `brinebench serve`: the page and the classroom on one address.
package server

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/netip"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"brinebench/cmd/brinebench/internal/room"
	"brinebench/cmd/brinebench/internal/store"
	"brinebench/cmd/brinebench/internal/web"
	"brinebench/game/class"
)

// options are the flags of the command.
type options struct {
	dir, addr, data, cert, key, proxies, logs string
	keepDays                                  int
	newPassword                               bool
}

func readOptions(args []string) (o options, err error) {
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.StringVar(&o.dir, "dir", "build/site", "directory of the built site")
	flags.StringVar(&o.addr, "addr", "", "host:port to listen on (default: localhost, the first free port from 8080)")
	flags.StringVar(&o.data, "data", "", "file of the classroom's data, or postgres://… (default: no classroom)")
	flags.BoolVar(&o.newPassword, "new-password", false, "forget the instructor's password, and write a code to set a new one with")
	flags.StringVar(&o.cert, "cert", "", "file of a certificate in PEM, for TLS; with -key")
	flags.StringVar(&o.key, "key", "", "file of its key")
	flags.StringVar(&o.proxies, "proxy", "", "addresses of proxies, as 127.0.0.1,10.0.0.0/8, whose X-Forwarded-For and -Proto are believed")
	flags.IntVar(&o.keepDays, "keep", 30, "days that a class is kept after the last thing that happened in it; 0 for ever")
	flags.StringVar(&o.logs, "log", "text", "form of the log on standard error: text or json")
	if err := flags.Parse(args); err != nil {
		return o, err
	}
	switch {
	case flags.NArg() > 0:
		return o, fmt.Errorf("serve: unexpected argument %q", flags.Arg(0))
	case (o.cert == "") != (o.key == ""):
		return o, fmt.Errorf("serve: -cert and -key go together")
	case o.newPassword && o.data == "":
		return o, fmt.Errorf("serve: -new-password: of what -data?")
	case o.keepDays < 0:
		return o, fmt.Errorf("serve: -keep: %d, below 0", o.keepDays)
	case o.logs != "text" && o.logs != "json":
		return o, fmt.Errorf("serve: -log: %q, neither text nor json", o.logs)
	}
	return o, nil
}

// Command is `brinebench serve`: it serves a built site, and the classroom where it is
// given a place for its data, in the foreground until it is interrupted.
func Command(args []string, out io.Writer) error {
	o, err := readOptions(args)
	if err != nil {
		return err
	}
	site, err := web.Load(os.DirFS(o.dir))
	if err != nil {
		return fmt.Errorf("%s: %w", o.dir, err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	log := o.logger()
	handler, beside, setup, closeStore, err := o.handler(ctx, site, log)
	if err != nil {
		return err
	}
	defer closeStore()
	listener, err := listen(o.addr)
	if err != nil {
		return err
	}
	scheme := "http"
	address := visible(listener.Addr())
	if o.cert != "" {
		scheme = "https"
		if listener, err = secured(listener, o.cert, o.key); err != nil {
			return err
		}
	}
	fmt.Fprintf(out, "Brinebench is at %s://%s/ (Ctrl-C to stop)\n", scheme, address)
	if setup != "" {
		fmt.Fprintf(out, "The instructor's password is set with the code %s\n", setup)
	}
	return serve(ctx, listener, handler, log, beside)
}

func (o *options) logger() *slog.Logger {
	if o.logs == "json" {
		return slog.New(slog.NewJSONHandler(os.Stderr, nil))
	}
	return slog.New(slog.NewTextHandler(os.Stderr, nil))
}

// handler puts page and classroom together. setup is the code for the first password,
// "" where there is one already.
func (o *options) handler(ctx context.Context, site http.Handler, log *slog.Logger) (
	h http.Handler, beside func(ctx context.Context), setup string, closeStore func() error, err error,
) {
	if o.data == "" {
		return site, func(ctx context.Context) { <-ctx.Done() }, "", func() error { return nil }, nil
	}
	proxies, err := readProxies(o.proxies)
	if err != nil {
		return nil, nil, "", nil, err
	}
	s, err := store.Open(ctx, o.data)
	if err != nil {
		return nil, nil, "", nil, err
	}
	code := class.NewToken()
	r := room.New(s, room.Options{Log: log, SetupCode: code, Proxies: proxies, KeepDays: o.keepDays})
	if o.newPassword {
		err = r.ForgetPassword(ctx)
	}
	first := false
	if err == nil {
		first, err = r.First(ctx)
	}
	if err != nil {
		s.Close()
		return nil, nil, "", nil, err
	}
	if first {
		setup = code
	}
	mux := http.NewServeMux()
	mux.Handle("/", site)
	for _, path := range []string{"/api/", "/healthz", "/metrics"} {
		mux.Handle(path, r)
	}
	return mux, r.Run, setup, s.Close, nil
}

// readProxies reads addresses and ranges of them.
func readProxies(list string) (all []netip.Prefix, err error) {
	for item := range strings.SplitSeq(list, ",") {
		item = strings.TrimSpace(item)
		if item == "" {
			continue
		}
		p, err := netip.ParsePrefix(item)
		if err != nil {
			ip, errIP := netip.ParseAddr(item)
			if errIP != nil {
				return nil, fmt.Errorf("serve: -proxy: %q: no address", item)
			}
			p = netip.PrefixFrom(ip.Unmap(), ip.Unmap().BitLen())
		}
		all = append(all, p)
	}
	return all, nil
}
