package server

import (
	"net"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAPeerThatHasGoneIsNoticed(t *testing.T) {
	l, err := listen("localhost:0")
	require.NoError(t, err)
	defer l.Close()
	peer, err := net.Dial("tcp", l.Addr().String())
	require.NoError(t, err)
	defer peer.Close()
	conn, err := l.Accept()
	require.NoError(t, err)
	defer conn.Close()
	raw, err := conn.(*net.TCPConn).SyscallConn()
	require.NoError(t, err)
	options := map[int]int{tcpUserTimeout: 30_000, syscall.TCP_KEEPIDLE: 15, syscall.TCP_KEEPINTVL: 5, syscall.TCP_KEEPCNT: 3}
	err = raw.Control(func(fd uintptr) {
		for option, want := range options {
			got, err := syscall.GetsockoptInt(int(fd), syscall.IPPROTO_TCP, option)
			require.NoError(t, err)
			require.Equal(t, want, got, option)
		}
	})
	require.NoError(t, err)
}
