package say

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestASearchNeedsNeitherAccentsNorWholeWords(t *testing.T) {
	text := Plain("Puente de sal: la varilla rompe una costra, «nivel» 30 %; PRECAUCIÓN, Inyección")
	for typed, found := range map[string]bool{
		"": true, "sal": true, "precaucion": true, "inyeccion puente": true, "INYEC": true, "nivel 30": true,
		"eccion": false, "sal azucar": false,
	} {
		require.Equal(t, found, HasAll(text, strings.Fields(Plain(typed))), "%q", typed)
	}
}
