package room

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// The instructor's session.
const (
	deskCookie     = "brinebench_desk"
	memberCookie   = "brinebench_member"
	sessionMS      = 12 * 3600 * 1000
	memberS        = 30 * 86400
	minPassword    = 10 // characters
	maxPassword    = 200
	passwordName   = "password"
	argonPasses    = 3 // RFC 9106, 4: the second recommended choice, 64 MiB
	argonMemoryKiB = 64 << 10
	argonLanes     = 4
	argonKey       = 32
)

// hash writes a password as it is kept.
func (r *Room) hash(ctx context.Context, password string, salt []byte) ([]byte, error) {
	select {
	case r.hashing <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-r.hashing }()
	key := argon2.IDKey([]byte(password), salt, argonPasses, argonMemoryKiB, argonLanes, argonKey)
	code := base64.RawStdEncoding
	return fmt.Appendf(nil, "argon2id %d %d %d %s %s", argonPasses, argonMemoryKiB, argonLanes, code.EncodeToString(salt), code.EncodeToString(key)), nil
}

// fits compares a password with what is kept of one.
func (r *Room) fits(ctx context.Context, password string, kept []byte) (bool, error) {
	fields := strings.Fields(string(kept))
	if len(fields) != 6 {
		return false, errors.New("room: the password that is kept is damaged")
	}
	salt, err := base64.RawStdEncoding.DecodeString(fields[4])
	if err != nil {
		return false, fmt.Errorf("room: the password that is kept: %w", err)
	}
	again, err := r.hash(ctx, password, salt)
	return err == nil && subtle.ConstantTimeCompare(again, kept) == 1, err
}

func (r *Room) newHash(ctx context.Context, password string) ([]byte, error) {
	switch n := utf8.RuneCountInString(password); {
	case n < minPassword || n > maxPassword:
		return nil, bad(fmt.Errorf("password: %d to %d characters", minPassword, maxPassword))
	}
	var salt [16]byte
	rand.Read(salt[:])
	return r.hash(ctx, password, salt[:])
}

// desk tells whether there is a password yet, and who asks.
func (r *Room) desk(a ask) error {
	_, err := r.store.Setting(a.q.Context(), passwordName)
	if err != nil && !store.IsNone(err) {
		return err
	}
	in, errIn := r.signedIn(a.q)
	if errIn != nil {
		return errIn
	}
	return a.answer(map[string]bool{"first": err != nil, "in": in})
}

// firstPassword takes the instructor's password at the first start, from whoever sees
// what the program wrote when it was started.
func (r *Room) firstPassword(a ask) error {
	var said struct{ Setup, Password string }
	if err := a.read(&said); err != nil {
		return err
	}
	err := r.try(a.q, "setup", "not the code that the program wrote when it started", func() (bool, error) {
		return r.opt.SetupCode != "" && subtle.ConstantTimeCompare([]byte(class.Typed(said.Setup)), []byte(r.opt.SetupCode)) == 1, nil
	})
	if err != nil {
		return err
	}
	hash, err := r.newHash(a.q.Context(), said.Password)
	if err != nil {
		return err
	}
	first, err := r.store.PutFirst(a.q.Context(), passwordName, hash)
	if err != nil {
		return err
	}
	if !first {
		return &problem{http.StatusConflict, "first", "there is a password already"}
	}
	r.log.Info("first password set", "from", r.address(a.q))
	return r.beginSession(a)
}

// try counts what is wrong of passwords and of the code for the first one.
func (r *Room) try(q *http.Request, word, text string, look func() (right bool, err error)) error {
	who, err := r.trier(q)
	if err != nil {
		return err
	}
	right, err := r.limits.passwords.check(who, look)
	if err == nil && !right {
		r.log.Warn("sign-in failed", "from", r.address(q))
		err = &problem{http.StatusForbidden, word, text}
	}
	return err
}

func (r *Room) signIn(a ask) error {
	var said struct{ Password string }
	if err := a.read(&said); err != nil {
		return err
	}
	if err := r.check(a, said.Password); err != nil {
		return err
	}
	r.log.Info("signed in", "from", r.address(a.q))
	return r.beginSession(a)
}

// check asks whether a password is the instructor's.
func (r *Room) check(a ask, password string) error {
	kept, err := r.store.Setting(a.q.Context(), passwordName)
	switch {
	case store.IsNone(err):
		return &problem{http.StatusConflict, "first", "there is no password yet"}
	case err != nil:
		return err
	}
	return r.try(a.q, "password", "not the password", func() (bool, error) {
		if len(password) > 4*maxPassword {
			return false, nil
		}
		return r.fits(a.q.Context(), password, kept)
	})
}

// changePassword takes another password and ends all sessions but a new one.
func (r *Room) changePassword(a ask) error {
	var said struct{ Password, Next string }
	if err := a.read(&said); err != nil {
		return err
	}
	if err := r.check(a, said.Password); err != nil {
		return err
	}
	hash, err := r.newHash(a.q.Context(), said.Next)
	if err != nil {
		return err
	}
	if err := r.store.PutSetting(a.q.Context(), passwordName, hash); err != nil {
		return err
	}
	if err := r.store.DropSession(a.q.Context(), nil); err != nil {
		return err
	}
	r.log.Info("password changed", "from", r.address(a.q))
	return r.beginSession(a)
}

func (r *Room) beginSession(a ask) error {
	secret, now := class.NewSession(), r.opt.NowMS()
	if err := r.store.AddSession(a.q.Context(), class.Digest(secret), now, now+sessionMS); err != nil {
		return err
	}
	r.setCookie(a, deskCookie, secret, sessionMS/1000)
	if err := r.knowDevice(a); err != nil {
		return err
	}
	return a.done()
}

func (r *Room) signOut(a ask) error {
	if c, err := a.q.Cookie(deskCookie); err == nil {
		if err := r.store.DropSession(a.q.Context(), class.Digest(c.Value)); err != nil {
			return err
		}
	}
	r.setCookie(a, deskCookie, "", -1)
	return a.done()
}

// setCookie sets a cookie that no script reads and no other site sends.
func (r *Room) setCookie(a ask, name, value string, ageS int) {
	http.SetCookie(a.w, &http.Cookie{
		Name: name, Value: value, Path: "/api/", MaxAge: ageS, HttpOnly: true, Secure: r.secure(a.q), SameSite: http.SameSiteStrictMode,
	})
}

func (r *Room) signedIn(q *http.Request) (bool, error) {
	c, err := q.Cookie(deskCookie)
	if err != nil {
		return false, nil
	}
	return r.store.HasSession(q.Context(), class.Digest(c.Value), r.opt.NowMS())
}

func memberDigest(q *http.Request) []byte {
	c, err := q.Cookie(memberCookie)
	if err != nil || class.Typed(c.Value) == "" {
		return nil
	}
	return class.Digest(class.Typed(c.Value))
}

// backup hands over a copy of the whole store, made while work goes on.
func (r *Room) backup(a ask) error {
	dir, err := os.MkdirTemp("", "brinebench-backup")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "class.db")
	const long = 10 * time.Minute // a store may be large, and a line slow
	http.NewResponseController(a.w).SetWriteDeadline(time.Now().Add(long))
	if err := r.store.Backup(a.whole, file); err != nil {
		if errors.Is(err, store.ErrNoBackup) {
			return &problem{http.StatusNotImplemented, "backup", err.Error()}
		}
		return err
	}
	r.log.Info("backup made", "from", r.address(a.q))
	a.w.Header().Set("Content-Type", "application/octet-stream")
	a.w.Header().Set("Content-Disposition", `attachment; filename="brinebench-class.db"`)
	http.ServeFile(a.w, a.q, file)
	return nil
}

// ForgetPassword takes the instructor's password away, and ends all sessions: a new one is
// set like the first.
func (r *Room) ForgetPassword(ctx context.Context) error {
	if err := r.store.DropSetting(ctx, passwordName); err != nil {
		return err
	}
	return r.store.DropSession(ctx, nil)
}

// First reports whether the instructor has yet to set a password.
func (r *Room) First(ctx context.Context) (bool, error) {
	_, err := r.store.Setting(ctx, passwordName)
	if store.IsNone(err) {
		return true, nil
	}
	return false, err
}
