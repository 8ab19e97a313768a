package room

import (
	"fmt"
	"maps"
	"net/http"
	"net/netip"
	"runtime"
	"slices"
	"sync"
	"time"
)

// metrics count what happens, for the text format of Prometheus (exposition 0.0.4). Names
// of routes are the program's own, so that they are bounded.
type metrics struct {
	mu       sync.Mutex
	requests map[route]int64
	seconds  map[string]float64
	counts   map[string]int64
}

type route struct {
	pattern string
	status  int
}

func newMetrics() *metrics {
	return &metrics{requests: map[route]int64{}, seconds: map[string]float64{}, counts: map[string]int64{}}
}

func (m *metrics) request(pattern string, status int, took time.Duration) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.requests[route{pattern, status}]++
	m.seconds[pattern] += took.Seconds()
}

func (m *metrics) count(name string) { m.add(name, 1) }

func (m *metrics) add(name string, n int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.counts[name] += n
}

// tellMetrics answers programs on this machine only.
func (r *Room) tellMetrics(w http.ResponseWriter, q *http.Request) {
	ip, err := netip.ParseAddr(hostOf(q.RemoteAddr))
	if err != nil || !ip.IsLoopback() || q.Header.Get("X-Forwarded-For") != "" {
		http.NotFound(w, q)
		return
	}
	w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	one := func(name, kind string, value any) {
		fmt.Fprintf(w, "# TYPE brinebench_%s %s\nbrinebench_%s %v\n", name, kind, name, value)
	}
	one("streams", "gauge", r.limits.streams.total())
	one("beliefs_behind", "gauge", r.tracker.Behind.Load())
	one("attempts_scored_total", "counter", r.tracker.Scored.Load())
	one("attempts_refused_total", "counter", r.tracker.Refused.Load())
	one("scoring_seconds_total", "counter", time.Duration(r.tracker.ScoringNS.Load()).Seconds())
	one("goroutines", "gauge", runtime.NumGoroutine())
	one("heap_bytes", "gauge", memory.HeapAlloc)
	one("memory_bytes", "gauge", memory.Sys)
	r.metrics.write(w, one)
}

func (m *metrics) write(w http.ResponseWriter, one func(name, kind string, value any)) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, name := range slices.Sorted(maps.Keys(m.counts)) {
		one(name+"_total", "counter", m.counts[name])
	}
	fmt.Fprintln(w, "# TYPE brinebench_requests_total counter")
	for _, k := range slices.SortedFunc(maps.Keys(m.requests), func(a, b route) int {
		if a.pattern != b.pattern {
			return slices.Compare([]byte(a.pattern), []byte(b.pattern))
		}
		return a.status - b.status
	}) {
		fmt.Fprintf(w, "brinebench_requests_total{route=%q,status=\"%d\"} %d\n", k.pattern, k.status, m.requests[k])
	}
	fmt.Fprintln(w, "# TYPE brinebench_request_seconds_total counter")
	for _, name := range slices.Sorted(maps.Keys(m.seconds)) {
		fmt.Fprintf(w, "brinebench_request_seconds_total{route=%q} %v\n", name, m.seconds[name])
	}
}
