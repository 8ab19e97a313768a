package sizing_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game"
	"brinebench/game/say"
	"brinebench/game/sizing"
	"brinebench/sim"
)

func speak(t *testing.T, l say.Lang) {
	t.Helper()
	t.Cleanup(func() { say.Speak(say.English) })
	say.Speak(l)
}

// sound is a job that is right in every field.
func sound() sizing.Form { return sizing.FormOf(soundJob) }

var soundJob = sim.DrawSizing(3).JSON

func with(f sizing.Form, id, text, unit string) sizing.Form {
	f.Set(id, sizing.Typed{Text: text, Unit: unit})
	return f
}

func TestADrawnJobComesBackFromItsForm(t *testing.T) {
	for _, l := range say.Langs {
		speak(t, l)
		for seed := range uint64(8) {
			job := sim.DrawSizing(seed)
			f := sizing.FormOf(job.JSON)
			text, troubles := f.Job()
			require.Empty(t, troubles, "%s %d", l, seed)
			back, err := sim.OpenSizing("job", text)
			require.NoError(t, err)
			require.Equal(t, job.Lines, back.Lines, "%s %d", l, seed)
		}
	}
}

// What is typed wrong is told at its field, in words of the page, and stays as it was
// typed.
func TestBadInputIsToldAtItsField(t *testing.T) {
	for _, row := range []struct{ situation, field, text, unit, want string }{
		{"nobody", "people", "0", "", "From 1 to 16."},
		{"half a person", "people", "2.5", "", "2.5 is not a whole number."},
		{"letters", "people", "four", "", "“four” is no number"},
		{"empty", "people", " ", "", "This is needed."},
		{"ten thousand grains", "water.hardness", "10,000", "gpg", "From 1 to 100 gpg."},
		{"the same with the unit behind", "water.hardness", "10000 gpg", "gpg", "From 1 to 100 gpg."},
		{"too much in another unit", "water.hardness", "2000", "mg/L as CaCO3", "From 17.1 to 1,710 mg/L as CaCO₃."},
		{"both units in one field", "water.hardness", "20 gpg (342 mg/L)", "gpg", "Two figures"},
		{"both units with a stroke", "water.hardness", "20 gpg / 342 ppm", "gpg", "Two figures"},
		{"a unit that is not the one beside", "water.hardness", "12 °dH", "gpg", "It says °dH here and gpg beside it"},
		{"a unit of something else", "water.hardness", "20 psi", "gpg", "“psi” is no unit of this"},
		{"a unit for a plain number", "water.pH", "7 gpg", "", "“gpg” is no unit of this. Here belongs a plain number."},
		{"not a number", "water.iron", "NaN", "mg/L", "is no number"},
		{"infinite", "water.iron", "1e999", "mg/L", "“1e999” is no number"},
		{"a power of ten", "water.hardness", "1e9", "gpg", "“1e9” is no number"},
		{"below nothing", "water.iron", "-1", "mg/L", "From 0 to 20 mg/L."},
		{"frozen", "water.temperature", "30", "F", "From 33.8 to 104 °F."},
		{"more pressure at a flow than at rest", "supply.residual", "149", "psi", "above the pressure at rest"},
		{"too many toilets", "fixtures.toilet", "7", "", "From 0 to 6."},
	} {
		f := with(sound(), row.field, row.text, row.unit)
		text, troubles := f.Job()
		require.Nil(t, text, row.situation)
		require.Len(t, troubles, 1, row.situation)
		require.Equal(t, row.field, troubles[0].Field, row.situation)
		require.Contains(t, troubles[0].String(), row.want, row.situation)
		require.Equal(t, row.text, f.Typed[row.field].Text, "nothing is lost")
	}
}

func TestAllThatIsWrongIsToldAtOnce(t *testing.T) {
	var f sizing.Form
	_, troubles := f.Job()
	var fields []string
	for _, x := range troubles {
		fields = append(fields, x.Field)
	}
	require.Equal(t, strings.Fields("people water.hardness water.temperature supply.static supply.residual supply.residual_at drain.rise drain.length drain.most_flow space.floor_width space.height fixtures.toilet"), fields)
	speak(t, say.Spanish)
	for _, x := range troubles {
		require.NotEmpty(t, x.String())
	}
}

func TestNumbersAreReadInTheWayOfTheLanguage(t *testing.T) {
	hardness := func(text string) (string, string) {
		f := with(sound(), "water.hardness", text, "gpg")
		job, troubles := f.Job()
		if len(troubles) > 0 {
			return "", troubles[0].ID
		}
		j, err := sim.OpenSizing("job", job)
		require.NoError(t, err)
		for _, line := range j.Lines[0] {
			if line.ID == "hardness" {
				return line.Text, ""
			}
		}
		return "", "no line"
	}
	for _, row := range []struct {
		lang       say.Lang
		text, want string
		bad        string
	}{
		{say.English, "12.5", "12.5 gpg", ""},
		{say.English, "12,5", "12.5 gpg", ""},
		{say.English, "12.5 gpg", "12.5 gpg", ""},
		{say.English, "12.5 GPG", "12.5 gpg", ""},
		{say.English, ".5", "", "sizing.bad.range"},
		{say.English, "1,000", "", "sizing.bad.range"},
		{say.English, "12.500", "12.5 gpg", ""},
		{say.English, "1.5.2", "", "sizing.bad.letters"},
		{say.English, "1,2,3.5", "", "sizing.bad.letters"},
		{say.English, "1.234.567", "", "sizing.bad.range"},
		{say.English, "1,234.5", "", "sizing.bad.range"},
		{say.Spanish, "12,5", "12.5 gpg", ""},
		{say.Spanish, "12.5", "12.5 gpg", ""},
		{say.Spanish, "12,500", "12.5 gpg", ""},
		{say.Spanish, "12.500", "", "sizing.bad.thousand"},
		{say.Spanish, "1\u00a0000", "", "sizing.bad.range"},
		{say.Spanish, "12 34", "", "sizing.bad.two"},
		{say.AmericanSpanish, "12.500", "12.5 gpg", ""},
		{say.AmericanSpanish, "12,5", "12.5 gpg", ""},
		{say.AmericanSpanish, "1,000", "", "sizing.bad.range"},
	} {
		speak(t, row.lang)
		got, bad := hardness(row.text)
		require.Equal(t, row.want, got, "%s %q", row.lang, row.text)
		require.Equal(t, row.bad, bad, "%s %q", row.lang, row.text)
	}
}

// answered is the worked solution typed in by a trainee, in the units of a system.
func answered(t *testing.T, d *sizing.Desk, si bool) sizing.Form {
	t.Helper()
	var f sizing.Form
	sol := d.Solution()
	for _, s := range sizing.Steps(&d.Job, sol, si) {
		f.Set(s.ID, sizing.Typed{Text: s.Result})
	}
	f.Choose("tank", sol.TankID)
	f.Choose("program", sol.Program)
	return f
}

// The worked solution, typed with its units as it is shown, is an answer that earns all
// the points that can be earned without the house, in every language and system.
func TestTheWorkedSolutionCanBeTypedAsItIsShown(t *testing.T) {
	for _, l := range say.Langs {
		speak(t, l)
		for _, si := range []bool{false, true} {
			d := sizing.New(nil)
			d.Another()
			f := answered(t, d, si)
			text, troubles := f.Answer(&d.Job)
			require.Empty(t, troubles, "%s %v: %v", l, si, troubles)
			require.NoError(t, sim.CheckSizingAnswer("answer", text))
			require.Equal(t, len(d.Job.Figures), f.Filled(&d.Job))
		}
	}
}

func TestAnAnswerOfNothingIsTold(t *testing.T) {
	d := sizing.New(nil)
	var f sizing.Form
	_, troubles := f.Answer(&d.Job)
	require.Len(t, troubles, 1)
	require.Equal(t, "hardness", troubles[0].Field)
	f = with(f, "capacity", "30 kilograins", "kilograin")
	_, troubles = f.Answer(&d.Job)
	require.Empty(t, troubles)
}

// Every figure is asked once, and of the settings those of the job's own controller before
// those of the other kind, with what they are worth.
func TestEveryFigureIsAskedOnce(t *testing.T) {
	for _, row := range []struct {
		controller string
		demand     bool
		own, other string
		worth      float64
	}{
		{"time clock", false, "every_days", "other-demand: set_hardness set_capacity set_reserve override_days", 4},
		{"demand", true, "set_hardness set_capacity set_reserve override_days", "other-clock: every_days", 1},
	} {
		job := sim.DrawSizing(1)
		job.Demand = row.demand
		seen := map[string]int{}
		groups := sizing.AnswerGroups(&job)
		for _, g := range groups {
			require.NotEmpty(t, say.Text("sizing.group."+g.ID, "4"), row.controller)
			for _, id := range g.Figures {
				seen[id]++
				require.NotEmpty(t, sizing.FigureName(&job, id))
			}
		}
		require.Len(t, seen, len(job.Figures), row.controller)
		for _, x := range job.Figures {
			require.Equal(t, 1, seen[x.ID], "%s: %s", row.controller, x.ID)
		}
		own, other := groups[len(groups)-2], groups[len(groups)-1]
		require.Equal(t, "settings: "+row.own, own.ID+": "+strings.Join(own.Figures, " "), row.controller)
		require.Equal(t, row.other, other.ID+": "+strings.Join(other.Figures, " "), row.controller)
		require.InDelta(t, row.worth, other.Points(&job), 1e-9, row.controller)
	}
}

// What stands in a field means what it meant when it was typed, whatever is spoken later.
func TestAFigureIsReadInTheLanguageItWasTypedIn(t *testing.T) {
	water := func(f *sizing.Form) string {
		d := sizing.New(nil)
		text, troubles := f.Answer(&d.Job)
		require.Empty(t, troubles)
		var file struct {
			Figures map[string]struct{ Value json.Number }
		}
		require.NoError(t, json.Unmarshal(text, &file))
		return file.Figures["daily_water"].Value.String()
	}
	for _, row := range []struct {
		typed, read say.Lang
		text, want  string
	}{
		{say.English, say.Spanish, "1,200", "1200"},
		{say.English, say.Spanish, "1.250", "1.25"},
		{say.Spanish, say.English, "2,375", "2.375"},
		{say.AmericanSpanish, say.Spanish, "1,200", "1200"},
		{say.AmericanSpanish, say.English, "1.250", "1.25"},
	} {
		speak(t, row.typed)
		var f sizing.Form
		f = with(f, "daily_water", row.text, "gal")
		kept, err := json.Marshal(f)
		require.NoError(t, err)
		speak(t, row.read)
		var back sizing.Form
		require.NoError(t, json.Unmarshal(kept, &back))
		require.Equal(t, row.want, water(&back), "%s in %s", row.text, row.read)
		back = with(back, "daily_water", row.text, "ft3")
		require.Equal(t, row.want, water(&back), "only the unit was changed")
	}
	speak(t, say.English)
	f := sizing.FormOf(sim.DrawSizing(3).JSON)
	before, troubles := f.Job()
	require.Empty(t, troubles)
	speak(t, say.Spanish)
	after, troubles := f.Job()
	require.Empty(t, troubles)
	require.JSONEq(t, string(before), string(after))
}

func TestAPanelCanBeSetAsFarAsTheController(t *testing.T) {
	for id, most := range map[string]int{"every_days": sim.MaxEveryDays, "set_hardness": sim.MaxHardnessGPG, "set_capacity": sim.MaxCapacityKgr, "set_reserve": sim.MaxReservePct, "override_days": sim.MaxOverrideDays} {
		for _, d := range append(sizing.Dials(false), sizing.Dials(true)...) {
			if d.ID != id {
				continue
			}
			u := sizing.Setup{Demand: id != "every_days", At: map[string]int{id: most}}
			require.Equal(t, most, u.Value(&d), id)
			s := u.Settings(soundJob)
			require.NoError(t, s.Validate(), id)
			u.At[id]++
			require.Equal(t, most, u.Value(&d), id)
		}
	}
}

func TestAWorkedSolutionHasCommasByThousands(t *testing.T) {
	d := sizing.New(nil)
	for _, s := range sizing.Steps(&d.Job, d.Solution(), false) {
		require.NotRegexp(t, `(?:^|[^.\d])\d{4}`, s.With+" "+s.Result)
		if s.ID == "capacity" {
			require.Equal(t, "85,540 grains", s.Result)
		}
	}
}

// A unit behind a figure is known in the ways in which technicians write it, and a wrong
// one is told with each that there is once.
func TestAUnitBehindAFigureIsKnown(t *testing.T) {
	d := sizing.New(nil)
	for _, l := range say.Langs {
		speak(t, l)
		for typed, want := range map[string]string{
			"56.4 kilograin": "kilograin", "56 kilograins": "kilograin", "56 kgr": "kilograin", "48,880 grains": "grain", "56 eq": "eq", "56": "", "56 apples": "",
		} {
			require.Equal(t, want, sizing.TypedUnit(sizing.Figure(&d.Job, "capacity"), typed), "%s %q", l, typed)
		}
	}
	speak(t, say.English)
	f := with(sizing.Form{}, "interval", "4 apples", "")
	require.Equal(t, "“apples” is no unit of this. Here belongs days.", f.Check(sizing.Figure(&d.Job, "interval")).String())
}

func TestHardWaterIsToldInTheReadersUnits(t *testing.T) {
	require.Equal(t, "Water above 1 gpg", sizing.OutcomeRows(game.Look{})[1].Name)
	require.Equal(t, "Water above 17 mg/L as CaCO₃", sizing.OutcomeRows(game.Look{SI: true})[1].Name)
}

func TestInchesAreNoWord(t *testing.T) {
	speak(t, say.Spanish)
	require.Equal(t, "pulg", sizing.UnitName("in"))
	require.Equal(t, "68 pulg de ancho, 90 pulg de alto", say.Sim("68 in wide, 90 in high"))
	require.Equal(t, "10 min", sizing.SetupText("refill_time", 600.0000000001))
}

func TestASeedIsReadLikeAnyFigure(t *testing.T) {
	d := sizing.New(nil)
	for typed, want := range map[string]string{"": "sizing.bad.empty", "x": "sizing.bad.letters", "-1": "sizing.bad.range", "1.5": "sizing.bad.whole", "1000000": "sizing.bad.range"} {
		bad := d.Draw(typed)
		require.NotNil(t, bad, typed)
		require.Equal(t, want, bad.ID, typed)
		require.Equal(t, uint64(1), d.Seed, "the job stays")
	}
	require.Nil(t, d.Draw("42"))
	require.Equal(t, sim.DrawSizing(42).Title, d.Job.Title)
}

// What the page lets pass the engine takes, whatever is typed.
func TestWhatTheFormLetsPassTheEngineTakes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	texts := []string{"0", "1", "4", "12.5", "60", "1e3", "99", "-2", "", "x", "20 gpg", "3 ft", "1,5", "0.0001", "70 °F"}
	passed := 0
	for range 1500 {
		f := sound()
		for _, e := range sim.SizingEntries() {
			if r.IntN(8) == 0 {
				u := e.Units[r.IntN(2)]
				f.Set(e.ID, sizing.Typed{Text: texts[r.IntN(len(texts))], Unit: u[r.IntN(len(u))].Name})
			}
		}
		text, troubles := f.Job()
		for _, x := range troubles {
			require.NotEqual(t, "sizing.bad.engine", x.ID, "%v %v", x, f)
		}
		if troubles == nil {
			passed++
			require.True(t, json.Valid(text))
		}
	}
	require.Greater(t, passed, 20)
}

func TestAPanelTurnsWithinItsBounds(t *testing.T) {
	for _, demand := range []bool{false, true} {
		for _, d := range sizing.Dials(demand) {
			u := sizing.Setup{Demand: demand}
			for _, notch := range d.Wheels {
				for _, by := range []int{notch, -notch} {
					for range 200 {
						u.Turn(&d, by)
						require.GreaterOrEqual(t, u.Value(&d), d.Lo, d.ID)
						require.LessOrEqual(t, u.Value(&d), d.Hi, d.ID)
						require.Len(t, u.Shown(&d), len(d.Wheels), d.ID)
						require.NotEmpty(t, u.Says(&d))
					}
				}
			}
		}
	}
	var u sizing.Setup
	clock := sizing.Dials(false)[0]
	u.Turn(&clock, -1)
	require.Equal(t, "23:59", u.Says(&clock))
	u.Turn(&clock, 60)
	require.Equal(t, "00:59", u.Says(&clock))
	require.Equal(t, []string{"00", "5", "9"}, u.Shown(&clock))
	s := u.Settings(sim.DrawSizing(1).JSON)
	require.NoError(t, s.Validate())
	require.Equal(t, 59.0*60, s.ClockS)
	require.GreaterOrEqual(t, s.NowS, 8*3600.0)
}

func TestOutcomesStandSideBySide(t *testing.T) {
	o := sim.SizingOutcome{HardDays: []int{1, 2}, HardM3: 0.5, HouseM3: 80, SaltKg: 69.4, PeakM3S: 5e-4, PeakLossPa: 64000, PeakLeftPa: 3e5, Regenerations: 17, DrainM3: 5.6}
	rows := sizing.OutcomeRows(game.Look{}, &o, &o, &o)
	require.Len(t, rows, 10)
	for _, r := range rows {
		require.Len(t, r.Values, 3)
		require.Equal(t, r.Values[0], r.Values[2], fmt.Sprint(r))
	}
	require.Equal(t, "153 lb", rows[5].Values[0])
	require.Equal(t, "69 kg", sizing.OutcomeRows(game.Look{SI: true}, &o)[5].Values[0])
}

// TestAFigureThatIsNearEnoughSaysWhatNearIs: who was a little off is told how far one may be.
func TestAFigureThatIsNearEnoughSaysWhatNearIs(t *testing.T) {
	figure := func(verdict, got string) sim.SizingFigureMark {
		return sim.SizingFigureMark{ID: "reserve", Name: "Reserve", Verdict: verdict, Got: [2]string{got, got}, Want: [2]string{"7500 grains", "486 g"}, Own: [2]string{"7500 grains", "486 g"}, Near: [2]string{"5625 – 9375 grains", "365 – 608 g"}}
	}
	speak(t, say.English)
	rows := sizing.MarkRows(&sim.SizingMarks{Figures: []sim.SizingFigureMark{figure("right", "6000 grains"), figure("right", "7500 grains"), figure("wrong", "3000 grains")}}, false)
	require.Equal(t, []string{"near enough: 5,625 – 9,375 grains"}, rows[0].Notes)
	require.Empty(t, rows[1].Notes)
	require.Empty(t, rows[2].Notes)
}

// What is read of an answer that is not finished is all that can be read.
func TestAnAnswerSoFarLeavesOutWhatCannotBeRead(t *testing.T) {
	d := sizing.New(nil)
	var f sizing.Form
	_, troubles := f.SoFar(&d.Job)
	require.NotEmpty(t, troubles, "nothing is answered")
	f.Set("hardness", sizing.Typed{Text: "20", Unit: "gpg"})
	f.Set("daily_water", sizing.Typed{Text: "much"})
	_, troubles = f.Answer(&d.Job)
	require.Len(t, troubles, 1)
	text, troubles := f.SoFar(&d.Job)
	require.Empty(t, troubles)
	require.Contains(t, string(text), `"hardness"`)
	require.NotContains(t, string(text), "daily_water")
	require.Equal(t, "much", f.Typed["daily_water"].Text, "what was typed stays")
}

// An answer is gone on with on another device, in either language, in the units it was
// typed in; what is none leaves nothing.
func TestAnAnswerComesBackToItsForm(t *testing.T) {
	d := sizing.New(nil)
	var f sizing.Form
	f.Set("hardness", sizing.Typed{Text: "342.5", Unit: "mg/L as CaCO3"})
	f.Set("daily_water", sizing.Typed{Text: "1234", Unit: "L"})
	f.Choose("tank", "tank-10-in")
	f.Choose("program", "standard")
	text, troubles := f.Answer(&d.Job)
	require.Empty(t, troubles)
	for _, l := range say.Langs {
		speak(t, l)
		back, err := sizing.AnswerForm(text)
		require.NoError(t, err)
		again, troubles := back.Answer(&d.Job)
		require.Empty(t, troubles, l)
		require.JSONEq(t, string(text), string(again), l)
	}
	for _, none := range []string{"", "{}", `{"format": "brinebench-answer-1", "figures": {"hardness": {"value": -1, "unit": "gpg"}}}`} {
		_, err := sizing.AnswerForm([]byte(none))
		require.Error(t, err, none)
	}
}
