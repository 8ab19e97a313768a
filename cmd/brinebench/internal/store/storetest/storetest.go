// Package storetest gives tests a database of each kind: SQLite in a file, and
// PostgreSQL as Debian packages it, started for the tests alone.
package storetest

import (
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
	"github.com/stretchr/testify/require"
)

// server is a PostgreSQL server of the tests.
type server struct {
	dir string
	cmd *exec.Cmd
	err error
}

var (
	running = sync.OnceValue(start)
	started atomic.Bool
	bases   atomic.Int64
)

// Run runs the tests of a package and ends the server that they may have started.
func Run(m *testing.M) int {
	code := m.Run()
	if started.Load() {
		running().stop()
	}
	return code
}

// Each runs a test on an empty store of each kind, given by its address.
func Each(t *testing.T, test func(t *testing.T, address string)) {
	t.Run("sqlite", func(t *testing.T) { test(t, filepath.Join(t.TempDir(), "class.db")) })
	t.Run("postgres", func(t *testing.T) { test(t, Postgres(t)) })
}

// Postgres makes an empty database and returns its address.
func Postgres(t testing.TB) string {
	t.Helper()
	if programs() == "" && os.Getenv("BRINEBENCH_FULL") == "" {
		t.Skip("PostgreSQL is not installed: .ci/need postgres")
	}
	s := running()
	require.NoError(t, s.err)
	name := fmt.Sprintf("class%d", bases.Add(1))
	db, err := sql.Open("pgx", s.address("postgres"))
	require.NoError(t, err)
	defer db.Close()
	_, err = db.Exec("CREATE DATABASE " + name)
	require.NoError(t, err)
	return s.address(name)
}

// address reaches a database by the server's socket.
func (s *server) address(name string) string {
	return "postgres:///" + name + "?" + url.Values{"host": {s.dir}, "user": {"tester"}}.Encode()
}

// programs is the directory of the newest server that is installed, "" for none.
func programs() string {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if len(found) == 0 {
		return ""
	}
	return filepath.Dir(found[len(found)-1])
}

// start makes a server on a socket in a directory of its own. It keeps its data as
// surely as any: the tests kill what uses it, and not the server, so that it need not
// wait for the disk.
func start() *server {
	started.Store(true)
	s := new(server)
	fail := func(err error) *server { s.err = err; return s }
	var err error
	if s.dir, err = os.MkdirTemp("", "pg"); err != nil {
		return fail(err)
	}
	owner, err := owner()
	if err == nil && owner != nil {
		err = os.Chown(s.dir, int(owner.Uid), int(owner.Gid))
	}
	if err != nil {
		return fail(err)
	}
	run := func(name string, args ...string) *exec.Cmd {
		cmd := exec.Command(filepath.Join(programs(), name), args...)
		cmd.Dir = s.dir
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: owner, Pdeathsig: syscall.SIGINT} // broken off, it leaves nothing running
		return cmd
	}
	data := filepath.Join(s.dir, "data")
	if out, err := run("initdb", "-D", data, "-U", "tester", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync").CombinedOutput(); err != nil {
		return fail(fmt.Errorf("initdb: %w: %s", err, out))
	}
	s.cmd = run("postgres", "-D", data, "-k", s.dir, "-c", "listen_addresses=", "-c", "fsync=off", "-c", "max_connections=200")
	if err := s.cmd.Start(); err != nil {
		return fail(err)
	}
	return fail(s.wait())
}

// owner is who the server runs as: it refuses to be root.
func owner() (*syscall.Credential, error) {
	if os.Getuid() != 0 {
		return nil, nil
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		return nil, err
	}
	uid, errUID := strconv.ParseUint(u.Uid, 10, 32)
	gid, errGID := strconv.ParseUint(u.Gid, 10, 32)
	if errUID != nil || errGID != nil {
		return nil, fmt.Errorf("postgres: uid %q, gid %q", u.Uid, u.Gid)
	}
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, nil
}

// wait waits until the server answers.
func (s *server) wait() error {
	db, err := sql.Open("pgx", s.address("postgres"))
	if err != nil {
		return err
	}
	defer db.Close()
	for range 200 {
		if err = db.Ping(); err == nil {
			return nil
		}
		time.Sleep(50 * time.Millisecond)
	}
	return err
}

func (s *server) stop() {
	if s.cmd != nil && s.cmd.Process != nil {
		s.cmd.Process.Signal(syscall.SIGINT) // fast shutdown
		s.cmd.Wait()
	}
	os.RemoveAll(s.dir)
}
