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

func TestWordsAreFoundWhereTheyBegin(t *testing.T) {
	words := strings.Fields(Plain("sal costra"))
	require.Equal(t, [][2]int{{10, 13}, {20, 23}, {30, 36}}, Find("Puente de Sal, y un salón con costras; universal", words))
	require.Empty(t, Find("Añada agua", words))
	require.Equal(t, [][2]int{{2, 8}}, Find("¡¿Salmué", strings.Fields(Plain("salmue"))))
	require.Empty(t, Find("anything", nil))
}
