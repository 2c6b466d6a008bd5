package line

import (
	"math"
	"testing"

	"gapline/cabinet/field"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/reftable"
)

// A straight line tilted down aims where it is tilted, with edges 1.8927·λ/(πL) in
// sine on both sides of that (rect_angles), whatever the axis.
func TestBeamOfATiltedLine(t *testing.T) {
	const length, hz = 2.0, 4000.0
	const tol = 0.05 * quantity.Degree // a fifth of the step between angles
	d := strip(8, length)
	tilt := -7 * quantity.Degree
	d.Line.Tilt = optional.Of(tilt)
	s := mustHang(t, &d, Conditions{})
	p, err := s.Polar(ctx, field.Vertical, at(hz), AllRound, 2*math.Pi, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	half := math.Asin(1.8927 / math.Pi * soundSpeed / hz / length)
	reftable.Within(t, "aim", p.Directions(func(b field.Beam) float64 { return b.Aim })[0], tilt, tol)
	reftable.Within(t, "upper", p.Directions(func(b field.Beam) float64 { return b.Upper })[0], tilt+half, tol)
	reftable.Within(t, "lower", p.Directions(func(b field.Beam) float64 { return b.Lower })[0], tilt-half, tol)
}

// bentHorns is an invented curved stack of horn mouths 80 mm wide, over seats.
func bentHorns() *Study {
	d := strip(8, 2)
	d.Horn.MouthWidth = optional.Of(0.08)
	d.Line.Splay = []float64{0.02, 0.02, 0.03, 0.03, 0.04, 0.05, 0.06}
	d.Line.TopHeight = optional.Of(6)
	d.Audience.Start, d.Audience.End = []float64{5, 20}, []float64{20, 40}
	d.Audience.StartFloor, d.Audience.EndFloor = []float64{0, 0}, []float64{0, 3}
	s, _ := New(&d, Conditions{})
	return s
}

// The seats' directions are those of plane geometry from the middle of the mouths.
func TestSeatDirections(t *testing.T) {
	s := bentHorns()
	d := s.seatDirections()
	c := s.far.Centre()
	reftable.Within(t, "lowest", d.Lowest-s.AxisDown(), math.Atan2(1.2-c.Z, 5-c.X), 1e-12)
	reftable.Within(t, "highest", d.Highest-s.AxisDown(), math.Atan2(4.2-c.Z, 40-c.X), 1e-12)
	reftable.Within(t, "farthest", d.TowardsFarthest, d.Highest, 1e-12)
}

// A mouth alike in all its width falls by 6 dB where sin θ = 0.6025·λ/W; a curved stack
// of such mouths is as wide at its sides, because every box is, though in the plane
// through its axis it seems far wider.
func TestHorizontalWidthOfACurvedStack(t *testing.T) {
	s := bentHorns()
	hz := []float64{4000, 8000}
	plane, err := s.Polar(ctx, field.Horizontal, at(hz...), HalfTurn, math.Pi, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	across, err := s.Across(ctx, at(hz...), HalfTurn, math.Pi, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range hz {
		want := 2 * math.Asin(1.8927/math.Pi*soundSpeed/f/0.08)
		// The mean over the boxes' directions is that of a sum with fringes: within a
		// tenth of the mouth's own width.
		reftable.Near(t, "width", across.Beamwidth[i], want, 0.1)
		t.Logf("%g Hz: mouth %.1f°, mean over the boxes' directions %.1f°, in the plane %.1f°", f, want/quantity.Degree,
			across.Beamwidth[i]/quantity.Degree, plane.Beamwidth[i]/quantity.Degree)
	}
	if across.Pressure != nil || across.Across < fewestElevations {
		t.Errorf("%d elevations, phases %v", across.Across, across.Pressure != nil)
	}
}

func TestReferences(t *testing.T) {
	s := bentHorns()
	for text, want := range map[string]func(p *Polar) float64{
		"axis": func(*Polar) float64 { return 0 },
		"beam": func(p *Polar) float64 { return p.Beam[0].Level },
		"seat": func(p *Polar) float64 { return p.Beam[0].Level + p.Seats.FarthestUnderBeam[0] },
	} {
		r, err := ParseReference(text)
		if err != nil {
			t.Fatal(err)
		}
		s.Conditions.Reference = r
		p, err := s.Polar(ctx, field.Vertical, at(2000), AllRound, 2*math.Pi, math.Inf(1))
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, text, p.Zero[0], want(p), 1e-12)
		reftable.Within(t, text, p.Referred(0)[180], p.Level[0][180]-want(p), 1e-12)
	}
	if r, err := ParseReference("seat:12m"); err != nil || r.Metre != 12 {
		t.Errorf("%+v, %v", r, err)
	}
	for _, bad := range []string{"", "seats", "axis:3m", "seat:0m", "seat:3kg"} {
		if _, err := ParseReference(bad); err == nil {
			t.Errorf("%q is accepted", bad)
		}
	}
}

// Along the seats the level is that at the seats themselves, in the same air without
// floor, and the distances ascend within each stretch.
func TestLevelAlongTheSeats(t *testing.T) {
	s := bentHorns()
	d, err := s.Distance(ctx, at(250, 4000), 2, 64, PerDoubling)
	if err != nil {
		t.Fatal(err)
	}
	a := d.Seats
	for _, j := range []int{0, len(a.Seat) / 2, len(a.Seat) - 1} {
		e, err := field.New(s.Model.Stack, s.options("", false))
		if err != nil {
			t.Fatal(err)
		}
		p, err := e.Pressure(ctx, a.Seat[j:j+1], d.Hz)
		if err != nil {
			t.Fatal(err)
		}
		for i := range d.Hz {
			reftable.Within(t, "level", a.Level[i][j], e.Level(p[i][0]), 0.04) // DefaultTolerance against this view's finer one
		}
		reftable.Within(t, "distance", a.Metre[j], a.Seat[j].Sub(e.Centre()).Norm(), 1e-9)
	}
	for i := range d.Hz {
		if len(d.Smooth[i]) != len(d.Metre) || len(a.Smooth[i]) != len(a.Metre) {
			t.Fatal("a slope for each distance is wanted")
		}
	}
	// Far out every stack is a point, at 250 Hz to a tenth of a dB.
	reftable.Within(t, "far", d.Smooth[0][len(d.Metre)-1], 6.02, 0.1)
}
