package game

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestNoticesTellEachChangeOnce(t *testing.T) {
	s := &fakeSession{}
	s.setup.Stations = []sim.Station{{Name: "Service"}, {Name: "Backwash"}}
	b := newBench(s)
	s.onTick = func(s *fakeSession) {
		if s.now.Tick == 4 {
			s.now.Controller.Station = 1
			s.now.Tank.AirCheckSeated = true
			s.now.Paths[sim.PathBypassOut] = sim.PathView{FlowM3S: 1e-4, Water: sim.Water{HardnessMolM3: 3}}
		}
	}
	before := b.Changes()
	b.frames(3)
	require.Equal(t, []Notice{
		{Kind: NoticeEvent, Text: "The valve has reached backwash."},
		{Kind: NoticeEvent, Text: "The air check has seated: brine draw is over."},
		{Kind: NoticeEvent, Text: "The water at the valve outlet has turned hard."},
	}, b.TakeNotices())
	require.Greater(t, b.Changes(), before)
	require.Empty(t, b.TakeNotices())
	before = b.Changes()
	b.frames(3)
	require.Equal(t, before, b.Changes(), "passing time alone changes no panel")
}

func TestWaterThatStandsIsNotToldOf(t *testing.T) {
	s := &fakeSession{}
	s.setup.Stations = []sim.Station{{Name: "Service"}}
	b := newBench(s)
	s.onTick = func(s *fakeSession) { s.now.Paths[sim.PathBypassOut].Water.HardnessMolM3 = 3 }
	b.frames(3)
	require.Empty(t, b.TakeNotices())
	s.onTick = func(s *fakeSession) { s.now.Paths[sim.PathBypassOut].FlowM3S = 1e-4 }
	b.frames(3)
	require.Len(t, b.TakeNotices(), 1, "a tap runs")
}

func TestAlarmIsToldOnceAndStandsForThePosition(t *testing.T) {
	s := &fakeSession{}
	s.setup.Stations = []sim.Station{{Name: "Service"}}
	s.now.Face.Powered = true
	b := newBench(s)
	s.onTick = func(s *fakeSession) { s.now.Controller.Alarm = s.now.Tick >= 4 }
	b.frames(3)
	n := b.TakeNotices()
	require.Len(t, n, 1)
	require.Contains(t, n[0].Text, "alarm")
	require.Contains(t, Position(b.View(), &s.setup), "Alarm")
}

func TestFaceIsToldInWords(t *testing.T) {
	s := &fakeSession{}
	s.now.Controller.Powered, s.now.Face.Powered = true, true
	b := newBench(s)
	for _, row := range []struct {
		name           string
		plugged        bool
		face           sim.Face
		words, noticed string
	}{
		{"the house without power", true, sim.Face{}, "dark, no power", "goes dark"},
		{"power again, the time lost", true, sim.Face{Powered: true, ClockLost: true}, "clock not set", "lost the time"},
		{"clock set", true, sim.Face{Powered: true}, "", "has the time again"},
		{"unplugged", false, sim.Face{}, "dark, unplugged", "goes dark"},
		{"plugged in", true, sim.Face{Powered: true}, "", "is lit"},
	} {
		s.now.Controller.Powered, s.now.Face = row.plugged, row.face
		b.frames(3)
		require.Equal(t, row.words, Face(b.View()), row.name)
		told := b.TakeNotices()
		require.NotEmpty(t, told, row.name)
		require.Contains(t, told[len(told)-1].Text, row.noticed, row.name)
	}
}

func TestUnsafeActIsToldAsSuch(t *testing.T) {
	b := newBench(&fakeSession{})
	require.NoError(t, b.Do(sim.Action{Kind: sim.ActOpen, ID: "unsafe"}))
	n := b.TakeNotices()
	require.Len(t, n, 1)
	require.Equal(t, NoticeUnsafe, n[0].Kind)
}

func TestResultIsToldWhenTheActIsDone(t *testing.T) {
	b := newBench(&fakeSession{})
	require.NoError(t, b.Do(sim.Action{Kind: sim.ActTest, Value: 1}))
	require.Empty(t, b.TakeNotices())
	require.Zero(t, b.Told())
	b.frames(1)
	require.Len(t, b.TakeNotices(), 1)
	require.Equal(t, 1, b.Told())
}

func TestRefusedActLeavesNoMark(t *testing.T) {
	b := newBench(&fakeSession{})
	require.NoError(t, b.Do(sim.Action{Kind: sim.ActTest, Value: 1}))
	require.Error(t, b.Do(sim.Action{Kind: sim.ActOpen, Value: 1}))
	require.Len(t, b.Charts().MarksSince(0), 1)
}

func TestControlsShowWhatIsSo(t *testing.T) {
	for _, row := range []struct {
		name string
		view sim.View
		on   []string
	}{
		{
			"as found",
			sim.View{Bypass: "service", Controller: sim.ControllerView{Powered: true}},
			[]string{"plug", "bypass-service", "supply-open", "house-tap-shut", "raw-tap-shut"},
		},
		{
			"isolated, taps open",
			sim.View{Bypass: "shut", ShutOff: true, HouseTap: 1, RawTap: 0.5},
			[]string{"unplug", "bypass-shut", "supply-shut", "house-tap-open", "raw-tap-half"},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			var on []string
			for _, c := range Controls {
				for _, i := range c.Intents {
					if i.Now != nil && i.Now(&row.view) {
						on = append(on, i.ID)
					}
				}
			}
			require.Equal(t, row.on, on)
		})
	}
	require.NotNil(t, ControlOf(sim.PartBypass))
	require.Nil(t, ControlOf(sim.PartSalt))
}

func TestReadingKeepsTheCircumstancesItWasTakenIn(t *testing.T) {
	stations := []sim.Station{{ID: "service", Name: "Service"}, {ID: "backwash", Name: "Backwash"}}
	for _, row := range []struct {
		name, want string
		set        func(v *sim.View)
	}{
		{"in service", "in service", func(*sim.View) {}},
		{"bypassed", "in backwash, bypassed", func(v *sim.View) { v.Controller.Station, v.Bypass = 1, "bypass" }},
		{"bypass shut", "in service, bypass shut", func(v *sim.View) { v.Bypass = "shut" }},
		{"no supply", "in service, supply shut off", func(v *sim.View) { v.ShutOff = true }},
		{"drum turning", "moving to backwash", func(v *sim.View) { v.Controller.Station, v.Controller.Moving = 1, true }},
		{"unplugged on the way", "stopped on the way to backwash", func(v *sim.View) {
			v.Controller.Station, v.Controller.Moving, v.Face.Powered = 1, true, false
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := &fakeSession{}
			s.setup.Stations = stations
			s.now.Face.Powered, s.now.Bypass = true, "service"
			b := newBench(s)
			row.set(&s.now)
			require.NoError(t, b.Do(sim.Action{Kind: sim.ActTest, Value: 1}))
			require.Empty(t, b.During(0), "under way")
			b.frames(1)
			require.Equal(t, row.want, b.During(0))
		})
	}
}

func TestAReadingTellsThatTheValveTurnedMeanwhile(t *testing.T) {
	s := &sim.Setup{Stations: []sim.Station{{Name: "Service"}, {Name: "Backwash"}}}
	c := circumstances{controller: sim.ControllerView{Station: 1}, face: sim.Face{Powered: true}, from: 1}
	require.Equal(t, "in backwash", c.words(s))
	c.from = 0
	require.Equal(t, "begun in service, ended in backwash", c.words(s))
	c.controller.Moving = true
	require.Equal(t, "moving to backwash", c.words(s))
}
