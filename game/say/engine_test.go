package say

import (
	"encoding/json"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brinebench/scenarios"
	"brinebench/sim/call"
	"brinebench/sim/expert"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/record"
	"brinebench/sim/rig"
	"brinebench/sim/scenario"
	"brinebench/sim/sequence"
	"brinebench/sim/signature"
	"brinebench/sim/valve"

	"github.com/stretchr/testify/require"
)

// others are the languages that the engine does not speak itself.
var others = Langs[1:]

// speak makes a language the one spoken for the time of a test.
func speak(t *testing.T, l Lang) {
	t.Helper()
	t.Cleanup(func() { Speak(English) })
	Speak(l)
}

// inTables is what the engine says by its tables.
func inTables() (all []string) {
	add := func(texts ...string) { all = append(all, texts...) }
	for _, f := range fault.Catalogue() {
		add(f.Name, f.Seen, f.SeenMild, f.Vain, f.Caution)
	}
	for _, in := range instrument.All() {
		add(in.Name, in.What, in.Needs)
	}
	for _, c := range instrument.Complaints() {
		add(c.Name)
	}
	for _, p := range call.Parts() {
		add(p.Name, p.What)
		add(p.Cautions...)
	}
	for _, x := range call.Topics {
		add(x.Name, x.Text)
	}
	for seat := range valve.NumSeats {
		add(seat.String())
	}
	for _, id := range valve.ProgramIDs() {
		p, _ := valve.ProgramNamed(id)
		for _, st := range p.Stops {
			add(st.Name, st.Why)
		}
	}
	add(valve.AllHazards()...)
	for _, f := range sequence.Consequences() {
		add(f.What, f.Why)
	}
	for _, k := range rig.All() {
		add(k.Name)
	}
	for _, title := range benches() {
		add(title)
	}
	add(signature.Stages[:]...)
	add(expert.Worths...)
	add(sizingWords()...)
	for _, bad := range []string{strings.Repeat("x", record.MaxText+1), "\xff", "\x01"} {
		add(record.BadText(bad))
	}
	return slices.DeleteFunc(all, func(s string) bool { return s == "" })
}

// benches are the titles of the units to practise on.
func benches() (titles []string) {
	names, _ := fs.Glob(scenarios.Bench, "bench/*.json")
	for _, name := range names {
		data, _ := fs.ReadFile(scenarios.Bench, name)
		f, err := scenario.Decode(name, data)
		if err != nil {
			panic(err)
		}
		titles = append(titles, f.Title)
	}
	return titles
}

func TestEveryTableOfTheEngineIsInTheCatalogue(t *testing.T) {
	for _, l := range others {
		speak(t, l)
		for _, english := range inTables() {
			_, ok := spoken.hear(english)
			require.True(t, ok, "%s: %q", l, english)
		}
	}
}

var (
	places = regexp.MustCompile(`\{(\d|text)\}`)
	digits = regexp.MustCompile(`\d+`)
)

func phrasesOf(t *testing.T, l Lang) (phrases map[string]string) {
	t.Helper()
	data, err := files.ReadFile(string(l) + "-engine.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &phrases))
	requireNoTwins(t, data)
	return phrases
}

func TestEveryTextInTheEnginesSourcesIsInTheCatalogue(t *testing.T) {
	texts := spokenIn(t)
	for _, l := range others {
		has := map[string]bool{}
		for english := range phrasesOf(t, l) {
			has[places.ReplaceAllString(english, "{}")] = true
		}
		for text := range texts {
			if !has[text] {
				t.Errorf("%s lacks %q", l, text)
			}
		}
	}
}

func TestTheCatalogueOfTheEngineHasNothingThatNobodySays(t *testing.T) {
	texts := spokenIn(t)
	for _, text := range inTables() {
		texts[text] = true
		texts[digits.ReplaceAllString(text, "{}")] = true
	}
	for _, l := range others {
		for english := range phrasesOf(t, l) {
			if !texts[places.ReplaceAllString(english, "{}")] {
				t.Errorf("%s: nobody says %q", l, english)
			}
		}
	}
}

func TestTranslationsFillTheSamePlaces(t *testing.T) {
	sorted := func(text string) []string {
		p := places.FindAllString(text, -1)
		slices.Sort(p)
		return p
	}
	for _, l := range others {
		for english, text := range phrasesOf(t, l) {
			require.Equal(t, sorted(english), sorted(text), "%s: %q", l, english)
			require.NotEmpty(t, strings.TrimSpace(text), english)
		}
	}
}

func TestANumberAndItsPercentStayOnOneLine(t *testing.T) {
	const english = "Named the cause: Salt bridge, 75 % sure."
	for lang, want := range map[Lang]string{English: "75\u00a0% sure", Spanish: "75\u00a0% de seguridad"} {
		speak(t, lang)
		require.Contains(t, Sim(english), want)
	}
}

func TestComposedTextsAreHeardWhole(t *testing.T) {
	speak(t, Spanish)
	tests := []struct{ english, spanish string }{
		{"Safety float: opened and looked at.", "Flotador de seguridad: apertura y revisión."},
		{"Seat of the brine disc worn: it leaks", "Asiento del disco de salmuera gastado: tiene fuga"},
		{"Seats and discs: cleaned. Still to be seen: the inlet seat is marked: it cannot close tight.", "Asientos y discos: limpieza. Se sigue viendo: el asiento de entrada está marcado: no puede cerrar bien."},
		{"the inlet seat is marked: it cannot close tight; the brine stem hangs, its disc stands off the seat", "el asiento de entrada está marcado: no puede cerrar bien; el vástago de salmuera está trabado, su disco queda separado del asiento"},
		{"Named the cause: Salt bridge; and: Resin lost, 75 % sure.", "Causa nombrada: Puente de sal; y: Resina perdida, con 75 % de seguridad."},
		{"By the minutes they took, your tests earned 55 %: each by what it promised beside the best one that could have been chosen then, in full from 50 % of that; one that told more than it promised up to 70 %. Of that 0 % counts: so far do the readings speak for what was named.", "Según los minutos que tomaron, sus pruebas ganaron el 55 %: cada una por lo que prometía frente a la mejor que se podía elegir entonces, entera desde el 50 % de esa; una que dijo más de lo que prometía, hasta el 70 %. De eso cuenta el 0 %: hasta ahí hablan las lecturas por lo que se nombró."},
		{"Suspects: Salt bridge. Expects: a hollow. No salt at all!", "Sospecha: Puente de sal. Espera: a hollow. No salt at all!"},
		{"Concluded: it speaks for \"Salt bridge\" (Salt, push a rod through it).", "Conclusión: habla a favor de «Puente de sal» (Sal, atravesarla con una varilla)."},
		{"The reading that tells most in brine draw: Brine line flow, tape and watch.", "La lectura que más dice en succión de salmuera: Caudal de la línea de salmuera, cinta y reloj."},
		{"The reading that tells most: Salt, push a rod through it.", "La lectura que más dice: Sal, atravesarla con una varilla."},
		{
			`Salt, push a rod through it tells "Salt bridge" from "Salt mush round the well": much (1.20 bits) in 2 min.`,
			"Sal, atravesarla con una varilla distingue «Puente de sal» de «Lodo de sal alrededor del pozo de salmuera»: mucho (1,20 bits) en 2 min.",
		},
		{
			`"Salt bridge" is right. The readings you had by then support it, alone or beside another cause, with 83 %. It was not all that was wrong. You said 70 %, where the readings say 83 %: that earns 8.4 of 10. You said 50 %, where the readings say 10 %: that earns 7.5 of 10. Less 4.0 for repairs that changed nothing (1).`,
			"La causa «Puente de sal» es correcta. Las lecturas que tenía hasta entonces la respaldan, sola o junto a otra, en un 83 %. No era todo lo que fallaba. Usted dijo 70 %, donde las lecturas dicen 83 %: eso suma 8,4 de 10. Usted dijo 50 %, donde las lecturas dicen 10 %: eso suma 7,5 de 10. Menos 4,0 por reparaciones que no cambiaron nada (1).",
		},
		{"12 min: Drain line: cleaned. Drain line blocked: this puts it right. A larger drain control does not widen the line.", "12 min: Línea de drenaje: limpieza. Línea de drenaje tapada: esto lo corrige. Un control de drenaje más grande no ensancha la línea."},
		{"Salt, push a rod through it: worth next to nothing (0.04 bits) in 2 min.", "Sal, atravesarla con una varilla: vale casi nada (0,04 bits) en 2 min."},
		{"Salt, push a rod through it would tell most in Brine draw and slow rinse: some (0.40 bits).", "Sal, atravesarla con una varilla diría más en Succión de salmuera y enjuague lento: algo (0,40 bits)."},
		{"What was read (7) took away 62 % of the doubt between 104 explanations, causes alone or together (from 5.9 to 2.2 bits; one bit settles an even question of yes or no).", "Lo leído (7) quitó el 62 % de la duda entre 104 explicaciones, causas solas o juntas (de 5,9 a 2,2 bits; un bit resuelve una pregunta equilibrada de sí o no)."},
		{"told: Brine draw and slow rinse; the drum stands between two positions", "indica: Succión de salmuera y enjuague lento; el tambor está entre dos posiciones"},
		{"the motor, and water running for about 1.5 hours", "el motor, y agua corriendo unas 1,5 horas"},
	}
	for _, test := range tests {
		text, ok := spoken.hear(test.english)
		require.True(t, ok, test.english)
		require.Equal(t, test.spanish, text)
	}
	_, ok := spoken.hear("Nobody ever said this.")
	require.False(t, ok)
	require.Equal(t, "Nobody ever said this.", Sim("Nobody ever said this."))
}
