package room

import (
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"brinebench/game/class"
)

// limits are how fast may be asked. A school shares one address, which so may ask as much
// as a hundred people; guesses and passwords are counted apart, and those only that fail.
type limits struct {
	address   *buckets // requests of an address
	member    *buckets // requests of a member, or of a token that is none
	joins     *buckets // people who join, by address
	guesses   *tries   // of codes and tokens
	passwords *tries
	streams   *streams
}

func newLimits() *limits {
	return &limits{
		address: newBuckets(200, 1000), member: newBuckets(10, 60), joins: newBuckets(20, class.MaxMembers),
		guesses:   &tries{newBuckets(0.5, 100), rate.NewLimiter(10, 500)},
		passwords: &tries{newBuckets(0.1, 8), rate.NewLimiter(1, 60)}, streams: &streams{open: map[string][]chan struct{}{}},
	}
}

// buckets hold a limiter for each key.
type buckets struct {
	perS  rate.Limit
	burst int
	mu    sync.Mutex
	of    map[string]*rate.Limiter
}

// maxKeys bounds the memory of buckets: where there are more, those that are full again
// are forgotten, and all where none is.
const maxKeys = 20_000

func newBuckets(perS float64, burst int) *buckets {
	return &buckets{perS: rate.Limit(perS), burst: burst, of: map[string]*rate.Limiter{}}
}

func (b *buckets) limiter(key string) *rate.Limiter {
	b.mu.Lock()
	defer b.mu.Unlock()
	l := b.of[key]
	if l == nil {
		if len(b.of) >= maxKeys {
			b.clear()
		}
		l = rate.NewLimiter(b.perS, b.burst)
		b.of[key] = l
	}
	return l
}

func (b *buckets) clear() {
	for key, l := range b.of {
		if l.Tokens() >= float64(b.burst) {
			delete(b.of, key)
		}
	}
	if len(b.of) >= maxKeys {
		b.of = map[string]*rate.Limiter{}
	}
}

// allow takes one from a key's bucket; false where there is none.
func (b *buckets) allow(key string) bool { return b.limiter(key).Allow() }

// tries count what somebody tries who does not know it: only what fails, since a school
// comes from one address, but each is counted before it is looked at, so that many at
// once are no more than many in turn.
type tries struct {
	by  *buckets
	all *rate.Limiter // but for devices that are known
}

// by is who tries: an address, or a device that has been right before, which nobody else
// at the address can lock out.
type trier struct {
	key   string
	known bool
}

// check has something looked at that may be right. right and err are those of look, and
// errSlow where too much was wrong before.
func (t *tries) check(who trier, look func() (right bool, err error)) (right bool, err error) {
	own := t.by.limiter(who.key)
	if !own.Allow() {
		return false, errSlow
	}
	if !who.known && !t.all.Allow() {
		return false, errSlow
	}
	right, err = look()
	if right || err != nil { // nothing was learnt by it: what was taken is given back
		own.AllowN(time.Now(), -1)
		if !who.known {
			t.all.AllowN(time.Now(), -1)
		}
	}
	return right, err
}

// streams are those of events that are open, by member or class.
type streams struct {
	mu   sync.Mutex
	open map[string][]chan struct{} // each closed when its stream is to end, the oldest first
	all  int
}

const (
	maxStreams    = 2000 // on one program
	maxStreamsKey = 6    // of one key
)

// begin opens one more, where there is room on the program; of a key that has too many
// the oldest ends, which may be one whose peer has gone without a word. over is closed
// when this one is to end; then end has to follow.
func (s *streams) begin(key string) (over chan struct{}, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.all >= maxStreams {
		return nil, false
	}
	if list := s.open[key]; len(list) >= maxStreamsKey {
		close(list[0])
		s.open[key] = list[1:]
	}
	over = make(chan struct{})
	s.all++
	s.open[key] = append(s.open[key], over)
	return over, true
}

func (s *streams) end(key string, over chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.all--
	s.open[key] = slices.DeleteFunc(s.open[key], func(c chan struct{}) bool { return c == over })
	if len(s.open[key]) == 0 {
		delete(s.open, key)
	}
}

func (s *streams) total() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.all
}

// address is who asks: the peer, or whom a trusted proxy names. What stands further left
// in the proxy's list anybody can have written.
func (r *Room) address(q *http.Request) string {
	peer := hostOf(q.RemoteAddr)
	if !r.trusted(peer) {
		return peer
	}
	hops := strings.Split(strings.Join(q.Header.Values("X-Forwarded-For"), ","), ",")
	for i := len(hops) - 1; i >= 0; i-- {
		hop := strings.TrimSpace(hops[i])
		if _, err := netip.ParseAddr(hop); err != nil {
			return peer
		}
		if !r.trusted(hop) {
			return hop
		}
	}
	return peer
}

// origin is an address as it is counted: of IPv6 the network, since a host has as many
// addresses there as it likes (RFC 4291, 2.5.4: interface identifiers of 64 bits).
func (r *Room) origin(q *http.Request) string {
	host := r.address(q)
	ip, err := netip.ParseAddr(host)
	if err != nil || ip.Unmap().Is4() {
		return host
	}
	network, err := ip.WithZone("").Prefix(64)
	if err != nil {
		return host
	}
	return network.String()
}

func hostOf(remote string) string {
	host, _, err := net.SplitHostPort(remote)
	if err != nil {
		return remote
	}
	return host
}

func (r *Room) trusted(host string) bool {
	ip, err := netip.ParseAddr(host)
	if err != nil {
		return false
	}
	for _, p := range r.opt.Proxies {
		if p.Contains(ip.Unmap()) {
			return true
		}
	}
	return false
}

// secure reports whether a request came by TLS, to this program or to a trusted proxy.
func (r *Room) secure(q *http.Request) bool {
	return q.TLS != nil || r.trusted(hostOf(q.RemoteAddr)) && q.Header.Get("X-Forwarded-Proto") == "https"
}
