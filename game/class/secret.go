package class

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	mrand "math/rand/v2"
	"strings"
)

// letters are those of codes and tokens: none that is taken for another, and no vowel
// but A and E, so that hardly a word comes about.
const letters = "ABCDEFGHJKLMNPQRTVWXYZ2346789"

// Lengths of what is typed, in letters of 4.86 bits.
const (
	codeLen  = 8  // 39 bits: guessed by nobody whose guesses are counted
	tokenLen = 16 // 78 bits
)

// NewCode draws a code to join a class by, such as ABCD-EFGH.
func NewCode() string { return grouped(draw(codeLen, chance)) }

// CodeOf is the code that follows from a seed nobody knows: the same one again.
func CodeOf(seed [32]byte) string { return grouped(draw(codeLen, from(seed))) }

// NewToken draws the secret by which a member comes back on another device.
func NewToken() string { return grouped(draw(tokenLen, chance)) }

// TokenOf is the token that follows from a seed nobody knows: the same one again.
func TokenOf(seed [32]byte) string { return grouped(draw(tokenLen, from(seed))) }

// NewSession draws the secret of a session of the instructor.
func NewSession() string {
	var b [32]byte
	rand.Read(b[:]) // never fails
	return base64.RawURLEncoding.EncodeToString(b[:])
}

func chance(b []byte) { rand.Read(b) } // never fails

func from(seed [32]byte) func(b []byte) {
	stream := mrand.NewChaCha8(seed)
	return func(b []byte) { stream.Read(b) } // never fails
}

// NewOnce draws the key by which a page asks for the same again, see CheckOnce.
func NewOnce() string { return NewSession()[:32] }

// draw draws letters evenly.
func draw(n int, fill func(b []byte)) string {
	out := make([]byte, 0, n)
	for len(out) < n {
		var b [64]byte
		fill(b[:])
		for _, x := range b {
			if x := int(x & 31); x < len(letters) && len(out) < n {
				out = append(out, letters[x])
			}
		}
	}
	return string(out)
}

func grouped(s string) string {
	var groups []string
	for ; s != ""; s = s[min(4, len(s)):] {
		groups = append(groups, s[:min(4, len(s))])
	}
	return strings.Join(groups, "-")
}

// Typed brings a code or token into its form as it was drawn, whatever was typed
// between the letters, and in small letters or capitals; "" for none.
func Typed(s string) string {
	if len(s) > 100 {
		return ""
	}
	s = strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune(letters, r):
			return r
		case r == ' ' || r == '-' || r == '.':
			return -1
		}
		return '?'
	}, strings.ToUpper(s))
	if strings.Contains(s, "?") {
		return ""
	}
	return grouped(s)
}

// Digest is what is kept of a secret: who reads the store cannot use it.
func Digest(secret string) []byte {
	sum := sha256.Sum256([]byte(secret))
	return sum[:]
}
