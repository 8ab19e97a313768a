package instrument

import (
	"fmt"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// questions to the customer. What they answer is so in the simulation.
var questions = []Instrument{
	{
		ID: "ask-people", Name: "Ask: how many live here?", What: "People in the house now.",
		Where: plant.PartHouse, Minutes: 0.5, Quantity: Count, Resolution: 1,
		value: func(m *plant.Model, s *plant.State) float64 { return float64(m.People(s)) },
	},
	{
		ID: "ask-since", Name: "Ask: is the water hard, and since when?", What: "When the trouble began, by what the family noticed.",
		Where: plant.PartHouse, Minutes: 0.5, Told: true, seen: hardSince,
	},
	{
		ID: "ask-where", Name: "Ask: at which taps is it hard?", What: "Whether the trouble is in the whole house: a pipe can leave ahead of the unit.",
		Where: plant.PartHouse, Minutes: 0.5, Told: true, seen: func(_ *plant.Model, s *plant.State) string {
			switch {
			case !noticedHard(s):
				return "at none that we know of"
			case !hardEverywhere(s):
				return "in the kitchen: kettle and cups. In the bath we have seen nothing of it"
			}
			return "wherever we look, kitchen and bath alike"
		},
	},
	{
		ID: "ask-salt", Name: "Ask: how much salt in a week?", What: "Salt filled up lately, by the customer's memory.",
		Where: plant.PartHouse, Minutes: 0.5, Quantity: Weight, Resolution: 0.5, Noise: 0.3, Relative: 0.2,
		value: func(_ *plant.Model, s *plant.State) float64 {
			if s.TimeS < unit.Day {
				return 0
			}
			return s.Ledger.SaltDissolvedMol * water.MolarMassNaCl / s.TimeS * 7 * unit.Day
		},
	},
	{
		ID: "ask-noise", Name: "Ask: what do you hear at night?", What: "The sounds of the last regeneration.",
		Where: plant.PartHouse, Minutes: 0.5, seen: noiseHeard,
	},
	{
		ID: "ask-water", Name: "Ask: has the water that comes in changed?", What: "What is known of the water that comes in.",
		Where: plant.PartHouse, Minutes: 0.5, seen: func(_ *plant.Model, s *plant.State) string {
			switch c := &s.Cond; {
			case c.FeedHarder > 1:
				return "yes: the water comes from another well now, and is harder"
			case c.FeedIron > 0:
				return "yes: for some time now it has left brown marks"
			case c.FeedColderC > 0:
				return "no, but the water is icy lately"
			}
			return "no"
		},
	},
	{
		ID: "ask-running", Name: "Ask: does a toilet or a tap run on?", What: "Water that nobody uses.",
		Where: plant.PartHouse, Minutes: 0.5, seen: func(_ *plant.Model, s *plant.State) string {
			if s.Cond.LeakM3S > 0.1*gpm {
				return "the toilet upstairs hisses all day"
			}
			return "not that we know"
		},
	},
	{
		ID: "ask-shower", Name: "Ask: is the water ever salty or the flow weak?", What: "What the family has noticed at the taps.",
		Where: plant.PartHouse, Minutes: 0.5, seen: func(m *plant.Model, s *plant.State) string {
			switch salty, weak := noticedSalt(s), m.WeakAtTaps(s); {
			case salty && weak:
				return "it tasted of salt more than once, and the shower has become weak"
			case salty:
				return "it tasted of salt more than once"
			case weak:
				return "the shower has become weak"
			}
			return "no"
		},
	},
}

// What a family has noticed.
func noticedHard(s *plant.State) bool { return hardEverywhere(s) || s.Cond.KitchenRaw > 0.5 }

func hardEverywhere(s *plant.State) bool { return s.Log.HardFromS > 0 }

func noticedSalt(s *plant.State) bool { return s.Ledger.HouseSaltyM3 > 1e-3 }

func heardRunning(s *plant.State) bool {
	return s.Log.Last.Seconds > 0 && s.Log.Last.DrainM3S >= 0.3*gpm
}

// hardFor is how long the water has been hard, at a stretch and on and off.
var hardFor = [2][3]string{
	{"for a few days", "for about a week", "for longer than a week"},
	{"on and off, for a few days", "on and off, for about a week", "on and off, for longer than a week"},
}

// hardSince puts the time since the first hard water into a customer's words.
func hardSince(_ *plant.Model, s *plant.State) string {
	h, days := &s.Log.Hard, (s.TimeS-s.Log.HardFromS)/unit.Day
	roughly := 2
	switch {
	case days < 4:
		roughly = 0
	case days < 9:
		roughly = 1
	}
	switch {
	case !noticedHard(s):
		return "it is not hard that we know of"
	case !hardEverywhere(s):
		return hardFor[0][2]
	case h.Hard == 0 && h.Soft > 0:
		return "now and then, never for a whole day"
	case h.Spells > 1 && 6*h.Soft >= h.Hard:
		return hardFor[1][roughly]
	case h.SoftForDays > 1:
		return "it was for a time, but not these days"
	case days < 1.5:
		return "since yesterday or so"
	}
	return hardFor[0][roughly]
}

func noiseHeard(_ *plant.Model, s *plant.State) string {
	switch {
	case s.Log.Last.Seconds == 0, (s.Cond.MotorDead > 0.5 || s.Cond.CurrentLost > 0.5) && !heardRunning(s):
		return "nothing: it has not run at night"
	case !heardRunning(s):
		return "the motor, and hardly any water"
	}
	return fmt.Sprintf("the motor, and water running for about %.1f hours", float64(int(s.Log.Last.Seconds/1800+0.5))/2)
}
