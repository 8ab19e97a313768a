package room

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"strings"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// A device on which somebody has signed in before carries a cookie that says so, signed by
// the server. It opens nothing; but passwords that others try from the same address do not
// keep it waiting.
const (
	deviceCookie  = "brinebench_device"
	deviceS       = 365 * 86400
	deviceKeyName = "device key"
)

// deviceKey is what devices' cookies are signed with, drawn once for a store.
func (r *Room) deviceKey(ctx context.Context) ([]byte, error) {
	key, err := r.store.Setting(ctx, deviceKeyName)
	if !store.IsNone(err) {
		return key, err
	}
	var drawn [32]byte
	rand.Read(drawn[:])
	if _, err := r.store.PutFirst(ctx, deviceKeyName, drawn[:]); err != nil {
		return nil, err
	}
	return r.store.Setting(ctx, deviceKeyName)
}

func signed(key []byte, name string) string {
	h := hmac.New(sha256.New, key)
	h.Write([]byte(name))
	return name + "." + base64.RawURLEncoding.EncodeToString(h.Sum(nil))
}

// knowDevice gives the device of who has just signed in its cookie, where it has none.
func (r *Room) knowDevice(a ask) error {
	if who, err := r.trier(a.q); err != nil || who.known {
		return err
	}
	key, err := r.deviceKey(a.q.Context())
	if err != nil {
		return err
	}
	r.setCookie(a, deviceCookie, signed(key, class.NewSession()), deviceS)
	return nil
}

// trier is who tries a password.
func (r *Room) trier(q *http.Request) (trier, error) {
	stranger := trier{key: "address " + r.origin(q)}
	c, err := q.Cookie(deviceCookie)
	if err != nil {
		return stranger, nil
	}
	key, err := r.deviceKey(q.Context())
	if err != nil {
		return stranger, err
	}
	name, _, _ := strings.Cut(c.Value, ".")
	if !hmac.Equal([]byte(c.Value), []byte(signed(key, name))) {
		return stranger, nil
	}
	return trier{key: "device " + name, known: true}, nil
}
