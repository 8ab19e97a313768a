package room

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/class"
	"brinebench/game/say"
)

// inSpanish is the mill house's title in scenarios/es.
const inSpanish = "Agua dura en la casa del molino"

func TestTitlesOfCallsAreToldInEveryLanguage(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	var choices []class.Choice
	desk.must("GET", "/api/catalogue", nil, &choices)
	require.NotEmpty(t, choices)
	for _, c := range choices {
		for _, l := range say.Langs[1:] {
			title := say.In(l).Title(c.Title, c.Titles)
			require.NotEmpty(t, title, "%s: %s", l, c.Ref)
			require.NotEqual(t, c.Title, title, "%s: %s", l, c.Ref)
		}
	}

	want := map[string]string{"es": inSpanish}
	made := desk.makeClass(false)
	require.Equal(t, want, made.Drills[0].Titles, "as it is made")
	var shown class.Shown
	desk.must("GET", path("classes/%d", made.ID), nil, &shown)
	require.Equal(t, want, shown.Drills[0].Titles, "as it is kept")
	var pushed class.Drill
	desk.must("POST", path("classes/%d/drills", made.ID), body{"kind": "call", "ref": mill}, &pushed)
	require.Equal(t, want, pushed.Titles)
	var m class.Mine
	x.trainee(made.Code, "Ada").must("GET", "/api/me", nil, &m)
	require.Equal(t, want, m.Class.Drills[0].Titles)
	require.Equal(t, "Hard water at the mill house", m.Class.Drills[0].Title)
}

func TestTheSheetIsPrintedInTheLanguageAskedFor(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	var c class.Shown
	desk.must("POST", "/api/classes", body{"name": "Soft", "drills": []body{
		{"kind": "call", "ref": mill, "seed": 5}, {"kind": "sequence", "ref": "standard"}, {"kind": "sizing", "seed": 100},
	}}, &c)
	ada := x.trainee(c.Code, "Ada")
	tk := ada.takeUp(c.Drills[0].ID)
	log := replayed(t, "expert")
	ada.upload(&tk, log, 0, len(log.Acts), true)
	x.scored(ada, 0)
	ada.takeUp(c.Drills[1].ID)

	english := []string{
		`<html lang="en">`, `<th scope="col">Name</th>`, "1. Hard water at the mill house", "2. Downflow brining", "3. At the weaver&#39;s loft: a small space<br><small>number 100</small>",
		"<br><small>What was wrong: Injector nozzle plugged</small></th>", "<td>95.6<br><small>right: Injector nozzle plugged, 111 min</small></td><td>begun</td><td></td>", "Mean</th><td>95.6</td><td></td><td></td>", "Scores of 100, reckoned by the server from the log of acts.",
	}
	spanish := []string{
		`<html lang="es">`, `<th scope="col">Nombre</th>`, "1. " + inSpanish, "2. Salmuera descendente", "3. En el taller del tejedor: poco espacio<br><small>número 100</small>",
		"<br><small>La falla era: Boquilla del inyector tapada</small></th>", "<td>95,6<br><small>correcta: Boquilla del inyector tapada, 111 min</small></td><td>empezado</td><td></td>", "Promedio</th><td>95,6</td><td></td><td></td>", "Puntos de 100, calculados por el servidor a partir del registro de acciones.",
	}
	var american []string
	for _, w := range spanish {
		american = append(american, strings.NewReplacer(`"es"`, `"es-419"`, "95,6", "95.6").Replace(w))
	}
	for query, words := range map[string][]string{
		"": english, "?lang=en": english, "?lang=es": spanish, "?lang=es-419": american, "?lang=es-MX": american, "?lang=xx": english, "?lang=%3Cscript%3E": english,
	} {
		status, data := desk.ask("GET", path("classes/%d/results.html", c.ID)+query, nil)
		require.Equal(t, 200, status, query)
		for _, w := range words {
			require.Contains(t, string(data), w, query)
		}
	}
	_, csv := desk.ask("GET", path("classes/%d/results.csv", c.ID), nil)
	require.Contains(t, string(csv), "Ada,1,Hard water at the mill house,call,scored,95.6,", "for programs to read")

	for _, l := range say.Langs {
		for _, s := range []class.Status{class.Going, class.Handed, class.Scored, class.Refused, class.Unscored, class.Marking, class.Untouched} {
			require.NotEmpty(t, say.In(l).Text("class.status."+string(s)), "%s: %s", l, s)
		}
		for _, kind := range class.SlipKinds() {
			require.NotEmpty(t, say.In(l).Text("board.mistake."+kind), "%s: %s", l, kind)
		}
		for _, h := range class.Hazards {
			require.NotEmpty(t, say.In(l).Text("board.hazard."+h), "%s: %s", l, h)
		}
	}
}
