package server

import "syscall"

// impatient has a socket, and those it accepts, give a peer up that acknowledges nothing
// (RFC 5482; tcp(7), TCP_USER_TIMEOUT, which package syscall does not name).
func impatient(fd uintptr) error {
	return syscall.SetsockoptInt(int(fd), syscall.IPPROTO_TCP, tcpUserTimeout, int(patience.Milliseconds()))
}

const tcpUserTimeout = 18
