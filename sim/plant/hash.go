package plant

import "brinebench/sim/repro"

// Hash returns a hash of every bit of the state that can change its future or
// its books. Equal runs on any processor give equal hashes.
func (s *State) Hash() uint64 {
	h := repro.NewHash()
	h.Float64(s.TimeS)
	cond := s.Cond.Fields()
	h.Floats(cond)
	h.Int64(int64(s.Bypass))
	for _, b := range []bool{s.ShutOff, s.Powered, s.PowerCut, s.StartNow, s.AdvanceNow, s.HomeNow, s.NoDraw, s.HoseOff, s.Aired} {
		h.Bool(b)
	}
	h.Float64(s.HouseTap)
	h.Float64(s.RawTap)
	s.hashControl(&h)
	s.hashBed(&h)
	s.hashTank(&h)
	h.Floats(s.Net.Q)
	h.Floats(s.Net.P)
	h.Floats([]float64{s.Cushion.Pa, s.Cushion.PaceS, s.Cushion.AirM3})
	h.Bool(s.Cushion.Follows)
	h.Floats(s.Cushion.Mol[:])
	h.Floats([]float64{s.Felt.Pa, s.Felt.RhoKgM3, s.Felt.Lift})
	h.Floats([]float64{s.Air.Share, s.Air.M3S, s.LosingM3})
	s.hashAround(&h)
	h.Float64(s.BedDepthM)
	h.Float64(s.TargetM)
	for i := range s.Mixes {
		h.Floats(s.Mixes[i][:])
	}
	for i := range s.Pending {
		h.Floats(s.Rates[i][:])
		h.Floats(s.Pending[i][:])
	}
	h.Float64(s.PendingS)
	s.Ledger.hash(&h)
	h.Int64(int64(s.Unsolved))
	return h.Sum()
}

func (s *State) hashAround(h *repro.Hash) {
	a, l := &s.Around, &s.Log
	h.Floats(a.Feed[:])
	h.Floats([]float64{
		a.FeedC, a.FeedIron, a.FreshM3, a.TankC, a.BrineIce.TempC, a.BrineIce.Fraction, a.DrainIce.TempC, a.DrainIce.Fraction,
		a.Well.WaterM3, a.Well.PumpedM3, a.Well.ShortM3,
		l.Last.Seconds, l.Last.DrawS, l.Last.DrainM3S, l.Now.Seconds, l.Now.DrawS, l.Now.DrainM3S, l.DrawS, l.WeakS,
	})
	h.Bool(a.Well.Running)
	d := &l.Hard
	h.Floats([]float64{l.HardFromS, d.M3, d.HardM3})
	for _, n := range []int{d.Day, d.Hard, d.Soft, d.Spells, d.SoftForDays} {
		h.Int64(int64(n))
	}
}

func (s *State) hashControl(h *repro.Hash) {
	c := &s.Control
	h.Int64(int64(c.Day))
	h.Floats([]float64{c.ClockS, c.SpentS, c.DrumDeg, c.CountDeg, c.StationS, c.SeekS, c.UsedM3, c.TodayM3, c.MeterM3S})
	h.Floats(c.WeekM3[:])
	for _, n := range []int{c.Station, c.DaysSince, c.Skip, c.KnownDays} {
		h.Int64(int64(n))
	}
	for _, b := range []bool{c.Unset, c.Moving, c.Alarm, c.Regenerating, c.Powered} {
		h.Bool(b)
	}
	h.Int64(int64(s.House.Day))
	h.Float64(s.House.TimeS)
}

func (s *State) hashBed(h *repro.Hash) {
	b := &s.Bed
	for p := range b.Q {
		for i := range b.Q[p] {
			h.Floats(b.Q[p][i][:])
			h.Floats(b.C[p][i][:])
		}
		h.Floats(b.Root[p][:])
	}
	for i := range b.Freeboard {
		h.Floats(b.Freeboard[i][:])
	}
	h.Floats(b.Plenum[:])
	h.Floats(s.TopOut[:])
	h.Floats(s.BottomOut[:])
	if f := &b.Iron; f.Present || s.Cushion.IronMol > 0 {
		for p := range f.Held {
			h.Floats(f.Water[p][:])
			h.Floats(f.Held[p][:])
			h.Floats(f.Rust[p][:])
		}
		k := &s.Ledger.Iron
		h.Floats(f.Freeboard[:])
		h.Floats([]float64{f.Plenum, s.Cushion.IronMol, k.Supply, k.House, k.Drain, k.RawTap, k.Floor, k.Mud, k.Bed})
	}
	if b.Cut > 0 || b.Lost > 0 {
		h.Floats([]float64{b.Cut, b.Lost})
	}
}

func (s *State) hashTank(h *repro.Hash) {
	t := &s.Tank
	for _, x := range []float64{t.WaterKg, t.SolidMol, t.HangingMol, t.Bridge} {
		h.Float64(x)
	}
	h.Floats(t.Dissolved[:])
	h.Bool(t.AirCheckSeated)
	h.Bool(t.FloatShut)
}

func (l *Ledger) hash(h *repro.Hash) {
	for _, x := range []float64{
		l.SupplyM3, l.HouseM3, l.DrainM3, l.RawTapM3, l.DrawnM3, l.RefilledM3, l.TankInKg, l.TankOutKg,
		l.SpillM3, l.SpillKg, l.SaltAddedMol, l.SaltDissolvedMol, l.MeteredM3, l.HouseHardM3, l.HouseSaltyM3, l.DryM3,
		l.LeakM3, l.AirOutM3, l.FloorM3, l.RainKg, l.TankAirM3, l.BailedKg,
	} {
		h.Float64(x)
	}
	for _, x := range []*[4]float64{
		(*[4]float64)(&l.SupplyMol), (*[4]float64)(&l.HouseMol), (*[4]float64)(&l.DrainMol),
		(*[4]float64)(&l.RawTapMol), (*[4]float64)(&l.SpillMol), (*[4]float64)(&l.BailedMol), (*[4]float64)(&l.FloorMol), (*[4]float64)(&l.BedMol), (*[4]float64)(&l.TankInMol), (*[4]float64)(&l.TankOutMol),
	} {
		h.Floats(x[:])
	}
}
