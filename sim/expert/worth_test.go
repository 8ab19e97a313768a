package expert

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWorthIsSaidInAWord(t *testing.T) {
	require.Len(t, Worths, len(WorthBits)+1)
	for bits, word := range map[float64]string{
		0: "next to nothing", 0.044: "next to nothing", 0.046: "little", 0.05: "little", 0.29: "little", 0.296: "some", 0.3: "some", 0.99: "some", 1: "much", 4: "much",
	} {
		require.Equal(t, word, Worth(bits), "%g bits", bits)
	}
}
