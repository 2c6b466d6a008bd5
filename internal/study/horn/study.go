package horn

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Study is everything that is worked out about one horn.
type Study struct {
	Design *design.Design
	Sizing sizing.Sizing // with the figures that only a study fills
	Binds  Binding       // what sets the lower limit

	Frequency  []float64 // Hz, 24 to the octave about 1 kHz
	Horizontal []float64 // -6 dB width of the exit, rad; NaN: wider than ±90°
	Bare       []float64 // the same of the mouth without its side flares; nil without flares
	BareMouth  waveguide.Control
	BareRule   float64   // Hz
	Vertical   []float64 // rad; nil when the front's curvature is not known
	NoVertical string    // why

	Rule []RuleRow

	Loading   *Loading // nil when the profile is not known
	NoLoading string   // why

	Map *Map // nil until AddMap
}

// Map is the horizontal level over angle and frequency.
type Map struct {
	Angles []float64   // rad
	Level  [][]float64 // dB re axis, a row for each angle
}

// Binding is what sets the lower limit of a horn.
type Binding int

// What may set it.
const (
	PatternBinds Binding = iota
	FlareBinds
	DriverBinds
)

// String returns the word that JSON holds.
func (b Binding) String() string { return [...]string{"pattern", "flare", "driver"}[b] }

// RuleRow compares Keele's rule with the aperture integral at one coverage.
type RuleRow struct {
	Coverage  float64 // rad
	Rule      float64 // Hz
	Computed  waveguide.Control
	Deviation float64 // rule over computed, less 1
}

// Loading is the horn as its driver finds it.
type Loading struct {
	Load      waveguide.Loading
	Infinite  []complex128 // throat impedance of the endless horn of the same flare; nil where there is none
	ListError float64      // of a profile by points; NaN else
	Tube      []float64    // share of a plane wave's power that enters the throat
	Drives    []waveguide.Drive
	Voltage   float64 // of the drives, V
}

// Efficiency is that of the compression driver where it is known, else the share
// that enters from a plane-wave tube.
func (l *Loading) Efficiency(i int) float64 {
	if l.Drives != nil {
		return l.Drives[i].Efficiency
	}
	return l.Tube[i]
}

// Frequencies of a horn study: 1 kHz times 2^(k/24).
const (
	PerOctave              = 24
	lowestStep, stepsAbove = -3 * PerOctave, 104
)

// loadingAccuracy is the relative accuracy asked of the throat impedance: far
// finer than a curve shows.
const loadingAccuracy = 1e-4

// Run works out the design's horn. check.HornProblems must be empty. The error is
// that of a compression driver whose data make no sense.
func Run(d *design.Design) (*Study, error) {
	st := &Study{Design: d, Sizing: sizing.Size(d), BareRule: numeric.Absent}
	for k := lowestStep; k < stepsAbove; k++ {
		st.Frequency = append(st.Frequency, 1000*math.Exp2(float64(k)/PerOctave))
	}
	c, h := st.Sizing.Air.SoundSpeed, &d.Horn
	st.Horizontal = beamwidths(h.Exit(), c, st.Frequency)
	if h.Sides.Given() && h.Coverage.Given() {
		st.Bare = beamwidths(waveguide.CoverageAperture(h.MouthWidth.Value(), h.Coverage.Value()), c, st.Frequency)
		st.BareMouth = waveguide.FindControl(h.MouthWidth.Value(), h.Coverage.Value(), c)
		st.BareRule = waveguide.KeeleFrequency(h.MouthWidth.Value(), h.Coverage.Value())
	}
	st.vertical(c)
	st.Rule = RuleTable(h.ExitWidth(), c)
	st.Binds = binds(h, &st.Sizing.Horn)
	return st, st.loading(c)
}

func beamwidths(a waveguide.Aperture, c float64, f []float64) []float64 {
	out := make([]float64, len(f))
	for i, v := range f {
		out[i] = a.Beamwidth(c / v)
	}
	return out
}

// vertical takes the front's own curvature: the fold's where there is one, else a
// circle about an apex one path length behind the mouth.
func (st *Study) vertical(c float64) {
	d := st.Design
	h, path := d.Horn.MouthHeight.Value(), st.Sizing.Horn.Path
	switch {
	case !numeric.Given(h):
		st.NoVertical = "the vertical width needs horn.mouth_height"
		return
	case !numeric.Given(path):
		st.NoVertical = "the vertical width needs the front's curvature: [fold], or horn.path_length"
		return
	}
	f, folded := d.Folded()
	if !folded {
		st.Vertical = beamwidths(waveguide.Aperture{Width: h, Apex: path}, c, st.Frequency)
		return
	}
	front := f.Front()
	st.Vertical = make([]float64, len(st.Frequency))
	for i, v := range st.Frequency {
		below, above := waveguide.FrontBeam(front, h, c, v)
		st.Vertical[i] = above - below
	}
}

// RuleTable compares Keele's rule with the aperture integral for a mouth of the
// given width in m, over coverages from 20° to 150°; c is in m/s.
func RuleTable(width, c float64) []RuleRow {
	var rows []RuleRow
	for deg := 20; deg <= 150; deg += 10 {
		rows = append(rows, ruleRow(width, float64(deg)*math.Pi/180, c))
	}
	return rows
}

func ruleRow(width, coverage, c float64) RuleRow {
	r := RuleRow{Coverage: coverage, Rule: waveguide.KeeleFrequency(width, coverage), Computed: waveguide.FindControl(width, coverage, c)}
	r.Deviation = r.Rule/r.Computed.Frequency - 1
	return r
}

// binds names what sets the horn's lower limit.
func binds(h *waveguide.Horn, s *sizing.HornSizing) Binding {
	switch s.Lower {
	case h.Lowest.Value():
		return DriverBinds
	case waveguide.FlareMargin * s.Cutoff:
		return FlareBinds
	}
	return PatternBinds
}

// loading works out the throat impedance and what a source makes of it.
func (st *Study) loading(c float64) error {
	d := st.Design
	profile, err := d.Horn.Flare()
	if err != nil {
		st.NoLoading = err.Error()
		return nil
	}
	l := &Loading{ListError: numeric.Absent, Voltage: d.HornDrive.Voltage.Or(design.DefaultHornVoltage)}
	mouth := d.Horn.MouthLoad()
	if l.Load, err = waveguide.Load(profile, mouth, c, st.Frequency, loadingAccuracy); err != nil {
		st.NoLoading = err.Error()
		return nil
	}
	if list, ok := profile.(waveguide.AreaList); ok {
		if l.ListError, err = waveguide.ListError(list, mouth, c, st.Frequency); err != nil {
			return err
		}
	}
	for i, f := range st.Frequency {
		z, ok := waveguide.InfiniteThroat(profile, 2*math.Pi*f/c)
		if ok {
			l.Infinite = append(l.Infinite, z)
		}
		l.Tube = append(l.Tube, waveguide.TubeTransmission(l.Load.Impedance[i]))
	}
	if d.HornDrive.Given() {
		l.Drives, err = d.HornDrive.Driver.On(st.Frequency, l.Load.Impedance, d.Horn.ThroatArea(), l.Voltage, st.Sizing.Air)
		if err != nil {
			return fmt.Errorf("[compression_driver]: %w", err)
		}
	}
	st.Loading = l
	st.loadingFigures()
	return nil
}

// rippleOctaves is the width of the band above the lower limit over which the
// ripple of the throat resistance is taken, octaves.
const rippleOctaves = 2

func (st *Study) loadingFigures() {
	l, s := st.Loading, &st.Sizing.Horn
	from := numeric.Or(s.Lower, waveguide.FlareMargin*s.Cutoff)
	s.Ripple = l.Load.Ripple(from, from*math.Exp2(rippleOctaves))
	s.HalfLoaded = staysAbove(st.Frequency, func(i int) float64 { return l.Tube[i] }, 0.5)
	s.EfficiencyLow = curveAt(st.Frequency, l.Efficiency, from)
}

// staysAbove is the lowest frequency from which on a curve stays at or above a
// level; NaN when it ends below.
func staysAbove(f []float64, y func(int) float64, level float64) float64 {
	for i := len(f) - 1; i >= 0; i-- {
		if y(i) < level {
			if i == len(f)-1 {
				return numeric.Absent
			}
			t := (level - y(i)) / (y(i+1) - y(i))
			return f[i] * math.Pow(f[i+1]/f[i], t)
		}
	}
	return f[0]
}

// curveAt interpolates a curve at a frequency in Hz, along log frequency; NaN outside.
func curveAt(f []float64, y func(int) float64, x float64) float64 {
	for i := 1; i < len(f); i++ {
		if f[i-1] <= x && x <= f[i] {
			t := math.Log(x/f[i-1]) / math.Log(f[i]/f[i-1])
			return y(i-1) + t*(y(i)-y(i-1))
		}
	}
	return numeric.Absent
}

// mapFloor is the lowest level of a map, dB re axis: an exact null has none.
const mapFloor = -60

// AddMap works out the map over ±90° in steps of 2°.
func (st *Study) AddMap() {
	var angles []float64
	for deg := -90; deg <= 90; deg += 2 {
		angles = append(angles, float64(deg)*math.Pi/180)
	}
	st.Map = &Map{angles, st.PatternMap(angles, mapFloor)}
}

// PatternMap is the horizontal level in dB of the exit against its own level on
// axis: rows of angles in rad by columns of frequencies in Hz, held at floor.
func (st *Study) PatternMap(angles []float64, floor float64) [][]float64 {
	a, c := st.Design.Horn.Exit(), st.Sizing.Air.SoundSpeed
	axis := make([]float64, len(st.Frequency))
	for i, f := range st.Frequency {
		axis[i] = numeric.DB(cmplx.Abs(a.Pressure(c/f, 0)))
	}
	byAngle := map[float64][]float64{}
	out := make([][]float64, len(angles))
	for j, angle := range angles {
		// The aperture is even: the two sides share their row.
		row, done := byAngle[math.Abs(angle)]
		if !done {
			row = make([]float64, len(st.Frequency))
			for i, f := range st.Frequency {
				row[i] = math.Max(floor, numeric.DB(cmplx.Abs(a.Pressure(c/f, math.Sin(math.Abs(angle)))))-axis[i])
			}
			byAngle[math.Abs(angle)] = row
		}
		out[j] = row
	}
	return out
}
