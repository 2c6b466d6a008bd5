package maximum

import (
	"context"
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/numeric"
	"gapline/internal/programme"
)

// Signal is the programme that is played; the zero value is the usual one.
type Signal struct {
	Spectrum *programme.Spectrum // nil: programme.IEC
	Crest    programme.Crest     // 0: programme.DefaultCrest
}

func (s Signal) orDefault() Signal {
	if s.Spectrum == nil {
		s.Spectrum = &programme.IEC
	}
	if s.Crest == 0 {
		s.Crest = programme.DefaultCrest
	}
	return s
}

// tonesPerThird is how finely the loads are added up over a third octave.
const tonesPerThird = 8

// Programme is how loud a programme signal can be played, against the design's own drive:
// the signal whose r.m.s. voltage would be that of the drive without the crossover.
type Programme struct {
	Signal
	Scale    float64 // by how much it can be raised until the first limit, ratio of voltages; NaN: not known
	Harmless float64 // until the first limit that harms a driver: beyond Scale air is heard
	Rooms    []Room  // every limit, the first one first
	Drives   []Drive // of each band at Scale
	// Level, A and C are the levels of one box on its axis at 1 m at Scale: unweighted,
	// A- and C-weighted, dB re 20 µPa.
	Level, A, C float64
}

// Room is how much higher than the first limit another stands.
type Room struct {
	Limit
	DB float64
}

// Drive is what a band is driven with at the largest level of the programme.
type Drive struct {
	Volts, Peak float64 // at the terminals of one box, r.m.s. and peak, V
	Watts       float64 // mean power into the resistance of all its drivers, W
}

// Programme works out the largest level of a programme signal of the given spectrum and
// crest factor.
func (o *Box) Programme(ctx context.Context, s Signal) (*Programme, error) {
	s = s.orDefault()
	thirds, crest := s.Spectrum.Thirds(), s.Crest
	var hz, share []float64
	for _, t := range thirds {
		for k := range tonesPerThird {
			hz = append(hz, t.Low*math.Pow(t.High/t.Low, (float64(k)+0.5)/tonesPerThird))
			share = append(share, t.Share/tonesPerThird)
		}
	}
	l := o.load(hz)
	out := &Programme{Signal: s, Scale: numeric.Absent, Harmless: numeric.Absent, Level: numeric.Absent, A: numeric.Absent, C: numeric.Absent}
	most, harm := 0.0, 0.0
	for i := range o.Bands {
		if !o.counts(i) {
			continue
		}
		for c := Excursion; c < causeCount; c++ {
			stress := o.ofProgramme(l, i, c, share, crest)
			if stress == 0 {
				continue
			}
			out.Rooms = append(out.Rooms, Room{Limit{i, c}, stress})
			most = math.Max(most, stress)
			if c.Harms() {
				harm = math.Max(harm, stress)
			}
		}
	}
	// A band without limits is heard somewhere in the spectrum: what all can give is not known.
	if most == 0 || !o.Absolute() || len(o.Missing()) > 0 {
		out.Rooms = nil
		return out, nil
	}
	out.Scale, out.Harmless = 1/most, 1/harm
	for i := range out.Rooms {
		out.Rooms[i].DB = numeric.DB(most / out.Rooms[i].DB)
	}
	slices.SortStableFunc(out.Rooms, func(a, b Room) int {
		switch {
		case a.DB < b.DB:
			return -1
		case a.DB > b.DB:
			return 1
		}
		return 0
	})
	for i := range o.Bands {
		out.Drives = append(out.Drives, o.driveOf(l, i, share, out.Scale, crest))
	}
	return out, o.levels(ctx, out, hz, share)
}

// levels adds up what one box gives on its axis.
func (o *Box) levels(ctx context.Context, p *Programme, hz, share []float64) error {
	at, err := o.engine.Polar(ctx, field.PolarSpec{Angle: []float64{0}, Frequency: hz, Distance: math.Inf(1), Axis: 0})
	if err != nil {
		return err
	}
	var plain, a, c float64
	for k, f := range hz {
		power := share[k] * math.Pow(10, at.OnAxis[k]/10) * p.Scale * p.Scale
		plain += power
		a += power * math.Pow(10, programme.AWeighting(f)/10)
		c += power * math.Pow(10, programme.CWeighting(f)/10)
	}
	p.Level, p.A, p.C = 10*math.Log10(plain), 10*math.Log10(a), 10*math.Log10(c)
	return nil
}

// ofProgramme is the share of a limit that the programme takes at the design's drive: the
// root of the mean of squares of the tones, and for what moves the crest of it. A tone's
// stress counts its peak, √2 times its r.m.s. value.
func (o *Box) ofProgramme(l *load, i int, c Cause, share []float64, crest programme.Crest) float64 {
	sum := 0.0
	for k, s := range l.stress[i][c] {
		sum += share[k] * s * s
	}
	if c == Power {
		return math.Sqrt(sum)
	}
	return math.Sqrt(sum/2) * float64(crest)
}

func (o *Box) driveOf(l *load, i int, share []float64, scale float64, crest programme.Crest) Drive {
	if l.volts[i] == nil {
		return Drive{numeric.Absent, numeric.Absent, numeric.Absent}
	}
	sum := 0.0
	for k, v := range l.volts[i] {
		sum += share[k] * v * v
	}
	v := math.Sqrt(sum) * scale
	return Drive{Volts: v, Peak: v * float64(crest), Watts: v * v / o.Bands[i].Resistance}
}

// First returns what stops the programme; None where nothing does.
func (p *Programme) First() Limit {
	if len(p.Rooms) == 0 {
		return None
	}
	return p.Rooms[0].Limit
}

// Next returns the limit of the first other band and how much higher it stands, dB; None
// where no other band has one.
func (p *Programme) Next() Room {
	for _, r := range p.Rooms {
		if r.Band != p.Rooms[0].Band {
			return r
		}
	}
	return Room{None, numeric.Absent}
}
