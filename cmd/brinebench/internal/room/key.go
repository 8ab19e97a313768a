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

const keyName = "key"

// key is the store's secret, drawn once.
func (r *Room) key(ctx context.Context) ([]byte, error) {
	key, err := r.store.Setting(ctx, keyName)
	if !store.IsNone(err) {
		return key, err
	}
	var drawn [32]byte
	rand.Read(drawn[:])
	if _, err := r.store.PutFirst(ctx, keyName, drawn[:]); err != nil {
		return nil, err
	}
	return r.store.Setting(ctx, keyName)
}

// sign is what nobody can work out who has not the store's secret, for one purpose.
func (r *Room) sign(ctx context.Context, purpose, text string) (sum [32]byte, err error) {
	key, err := r.key(ctx)
	if err != nil {
		return sum, err
	}
	h := hmac.New(sha256.New, key)
	h.Write([]byte(purpose + "\x00" + text))
	h.Sum(sum[:0])
	return sum, nil
}

// A device on which somebody has signed in before carries a cookie that says so, signed by
// the server. It opens nothing; but passwords that others try from the same address do not
// keep it waiting.
const (
	deviceCookie = "brinebench_device"
	deviceS      = 365 * 86400
)

func (r *Room) device(ctx context.Context, name string) (string, error) {
	sum, err := r.sign(ctx, "device", name)
	return name + "." + base64.RawURLEncoding.EncodeToString(sum[:]), err
}

// knowDevice gives the device of who has just signed in its cookie, where it has none.
func (r *Room) knowDevice(a ask) error {
	if who, err := r.trier(a.q); err != nil || who.known {
		return err
	}
	value, err := r.device(a.q.Context(), class.NewSession())
	if err != nil {
		return err
	}
	r.setCookie(a, deviceCookie, value, deviceS)
	return nil
}

// trier is who tries a password.
func (r *Room) trier(q *http.Request) (trier, error) {
	stranger := trier{key: "address " + r.origin(q)}
	c, err := q.Cookie(deviceCookie)
	if err != nil {
		return stranger, nil
	}
	name, _, _ := strings.Cut(c.Value, ".")
	value, err := r.device(q.Context(), name)
	if err != nil || !hmac.Equal([]byte(c.Value), []byte(value)) {
		return stranger, err
	}
	return trier{key: "device " + name, known: true}, nil
}
