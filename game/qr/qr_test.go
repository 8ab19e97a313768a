package qr

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheCodeIsThatOfTheStandard(t *testing.T) {
	path, across, err := Path("http://localhost/bench.html#v=1")
	require.NoError(t, err)
	require.Equal(t, 4*3+17+8, across, "31 bytes at level M make version 3: ISO/IEC 18004, table 7, from memory")
	require.True(t, strings.HasPrefix(path, "M4 4h7v1h-7z"), "the finder pattern's upper edge, after a quiet zone of four")
	_, _, err = Path(strings.Repeat("x", 3000))
	require.Error(t, err, "more than the 2,953 bytes of version 40 at level L")
}
