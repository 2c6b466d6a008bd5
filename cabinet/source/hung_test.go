package source

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/pattern"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// run is as a run in space would give the pattern of a band: here the far field of its mouths in one
// box, which the field sums by itself 4 km away, with a level for volts.
func run(t *testing.T, d design.Design, band string, hz []float64, level float64) Pattern {
	t.Helper()
	d.Line.Boxes, d.Line.Splay = 1, nil
	m := mustMap(t, &d, Choice{Straight: true, Open: Woofers})
	e, err := field.New(m.Stack, field.Options{Air: d.Air, Tolerance: 1e-6})
	if err != nil {
		t.Fatal(err)
	}
	const far = 4000
	c, rings := air.Of(d.Air).SoundSpeed, pattern.RingsFor(0.5, hz[len(hz)-1], air.Of(d.Air).SoundSpeed)
	p := &pattern.Pattern{Frequency: hz, Rings: rings, Smooth: true}
	for range hz {
		p.Pressure = append(p.Pressure, nil)
	}
	for _, u := range pattern.Directions(rings) {
		parts, err := e.Units(context.Background(), u.Scale(far), hz)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range hz {
			back := cmplx.Rect(far*level, 2*math.Pi*f/c*far)
			p.Pressure[i] = append(p.Pressure[i], parts[m.Band(band)][i]*back)
		}
	}
	return Pattern{Kind: ByWave, Band: band, Of: p, Volts: numeric.Absent}
}

func octave(from, to float64, each int) (hz []float64) {
	for i := 0; ; i++ {
		f := from * math.Exp2(float64(i)/float64(each))
		if f > to*1.0001 {
			return hz
		}
		hz = append(hz, f)
	}
}

// curvedHall hangs twoWay in a hall.
func curvedHall() design.Design {
	d := twoWay()
	d.Line.Boxes, d.Line.Splay = 6, []float64{0.01, 0.02, 0.03, 0.04, 0.06}
	d.Line.TopHeight, d.Line.Tilt = optional.Of(7), optional.Of(0.05)
	d.Bands.Woofer.Sensitivity = optional.Of(95)
	return d
}

// Hung by the patterns of its own mouths, each band of a curved stack gives what its mouths give: from
// 15 m on within 0.05 dB of the level in phase. A mouth that stands 0.17 m beside the middle of the
// band is not in question: both bands have one.
func TestOwnPatternsChangeNothing(t *testing.T) {
	d := curvedHall()
	hz := octave(200, 1600, 6)
	choice := Choice{Patterns: []Pattern{run(t, d, Woofers, hz, 1), run(t, d, Horn, hz, 3)}}
	mouths, hung := mustMap(t, &d, Choice{}), mustMap(t, &d, choice)
	var e [2]*field.Engine
	for i, m := range []*Model{mouths, hung} {
		var err error
		if e[i], err = field.New(m.Stack, field.Options{Air: d.Air, Tolerance: 1e-5}); err != nil {
			t.Fatal(err)
		}
	}
	if hung.Bands[0].Pattern == nil || hung.Bands[1].Pattern == nil || mouths.Bands[0].Pattern != nil {
		t.Fatal("patterns are not hung, or hung where none were given")
	}
	for _, at := range []field.Vec{{X: 15, Z: 1.2}, {X: 20, Y: 6, Z: 1.5}, {X: 40, Y: -10, Z: 3}, {X: -20, Y: 3, Z: 2}} {
		for f, most := range map[float64]float64{230: 0.0058, 500: 0.0058, 1100: 0.0058, 1600: 0.0058, 100: 0.0058, 6000: 0.0058,
			2000: 0.05, // two thirds are the pattern of 1600 Hz, which is wider
		} {
			var p [2][][]complex128
			for i := range e {
				var err error
				if p[i], err = e[i].Units(context.Background(), at, []float64{f}); err != nil {
					t.Fatal(err)
				}
			}
			for band := range p[0] {
				inPhase := 6 / at.Sub(e[0].Centre()).Norm()
				if x := cmplx.Abs(p[1][band][0]-p[0][band][0]) / inPhase; x > most {
					t.Errorf("%s at %v, %g Hz: off by %.4f of what is in phase", mouths.Bands[band].Name, at, f, x)
				}
			}
		}
	}
}

// thiele gives the woofer a circuit.
func thiele(d *design.Design) {
	w := &d.Woofer
	w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd = optional.Of(50), optional.Of(0.4), optional.Of(5), optional.Of(0.03), optional.Of(5.5), optional.Of(0.02)
	d.Enclosure.Volume = optional.Of(0.02)
}

// A run with a level says how loud the box is in the open: its own level for its volts, on the axis,
// where the run is; the horn is matched to it. Below the run what the cabinet does at its lowest
// frequency stays, above it the half space comes back within an octave.
func TestLevelOfARun(t *testing.T) {
	d := twoWay()
	thiele(&d)
	hz := octave(250, 2000, 6)
	p := run(t, d, Woofers, hz, 1)
	half := mustMap(t, &d, Choice{}).Bands[0].Circuit
	const loss = 0.6 // of the level in half space, ahead, by edges that lose 4.4 dB
	for i := range hz {
		turn := complex(loss*cmplx.Abs(half.At(hz[i], 5).Pressure)/cmplx.Abs(p.Of.Pressure[i][0]), 0)
		for j := range p.Of.Pressure[i] {
			p.Of.Pressure[i][j] *= turn
		}
	}
	p.Volts = 5
	d.Line.Boxes, d.Drive.Voltage = 1, optional.Of(10)
	choice := Choice{Patterns: []Pattern{p}, Only: []string{Woofers}, Open: Woofers}
	probe := []float64{50, 125, 250, 707, 1000, 2000, 4000, 8000}
	open := onAxis(t, mustMap(t, &d, choice), probe...)
	choice.HalfSpace = true
	wall := onAxis(t, mustMap(t, &d, choice), probe...)
	for i, f := range probe {
		want := half.At(f, 10).Level()
		reftable.Within(t, "in half space", wall[i], want, axisTolerance)
		db := numeric.DB(loss)
		if f >= 4000 {
			db = 0
		}
		reftable.Within(t, "in the open", open[i], want+db, axisTolerance)
	}
	// Ways of Linkwitz-Riley meet 6.02 dB below the level in the open.
	d.Bands.Horn.Sensitivity = optional.Of(108)
	horn := onAxis(t, mustMap(t, &d, Choice{Patterns: []Pattern{p}, Only: []string{Horn}, Straight: true}), 1000)[0]
	reftable.Within(t, "horn at the crossover", horn, half.At(1000, 10).Level()+numeric.DB(loss)+numeric.DB(0.5), axisTolerance)
}

// Polars of the whole box serve every band, each of which keeps its phase on the axis.
func TestPolarsOfTheWholeBox(t *testing.T) {
	d := twoWay()
	d.Line.Boxes = 1
	d.Bands.Woofer.Setback = optional.Of(0.1)
	round := &pattern.Pattern{Frequency: []float64{100, 8000}, Rings: 18, Smooth: true}
	for range round.Frequency {
		row := make([]complex128, len(pattern.Directions(18)))
		for i := range row {
			row[i] = 2
		}
		round.Pressure = append(round.Pressure, row)
	}
	mouths, hung := mustMap(t, &d, Choice{}), mustMap(t, &d, Choice{Patterns: []Pattern{{Kind: ByMeasured, Of: round, FromMouths: true, Volts: numeric.Absent}}})
	at := field.Vec{X: 4000}
	var p [2][][]complex128
	for i, m := range []*Model{mouths, hung} {
		e, err := field.New(m.Stack, field.Options{Air: d.Air})
		if err != nil {
			t.Fatal(err)
		}
		if p[i], err = e.Units(context.Background(), at, []float64{400}); err != nil {
			t.Fatal(err)
		}
	}
	for band := range p[0] {
		if e := cmplx.Abs(p[1][band][0]/p[0][band][0] - 1); e > 2e-3 { // 0.02 dB: mouths have some aperture off the axis
			t.Errorf("%s: %v on the axis, %v by its mouths", mouths.Bands[band].Name, p[1][band][0], p[0][band][0])
		}
	}
}
