package box

import (
	"context"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/study/maximum"
)

// Options are what the study looks at. The zero value means the defaults.
type Options struct {
	From, To  float64        // Hz; 10 and 2000 by default
	PerOctave int            // frequencies in an octave; 48 by default
	Boxes     []int          // sizes of the stack; 1, 2, 4, 8 by default
	Signal    maximum.Signal // programme of the largest levels
}

// Default options.
const (
	defaultFrom      = 10
	defaultTo        = 2000
	defaultPerOctave = 48
	// MaxFrequencies bounds the list of frequencies.
	MaxFrequencies = 20_000
)

func (o Options) withDefaults() Options {
	if o.From == 0 {
		o.From = defaultFrom
	}
	if o.To == 0 {
		o.To = defaultTo
	}
	if o.PerOctave == 0 {
		o.PerOctave = defaultPerOctave
	}
	if len(o.Boxes) == 0 {
		o.Boxes = []int{1, 2, 4, 8}
	}
	return o
}

// frequencies returns the list of frequencies in Hz, both ends included.
func (o Options) frequencies() ([]float64, error) {
	switch {
	case !(o.From >= 1) || !(o.To <= 20e3) || !(o.From < o.To):
		return nil, fmt.Errorf("frequencies from %.6g to %.6g Hz: a range within 1 Hz to 20 kHz is needed", o.From, o.To)
	case o.PerOctave < 1:
		return nil, fmt.Errorf("%d frequencies per octave: at least 1 is needed", o.PerOctave)
	}
	n := math.Ceil(math.Log2(o.To/o.From)*float64(o.PerOctave)-1e-9) + 1
	if n > MaxFrequencies {
		return nil, fmt.Errorf("%.6g frequencies: at most %d are possible", n, MaxFrequencies)
	}
	return driver.Frequencies(o.From, o.To, max(int(n), 2)), nil
}

// Check returns an error when the options make no sense.
func (o Options) Check() error {
	_, err := o.withDefaults().frequencies()
	return err
}

// Study is what one box does, SI. Levels are in dB at 1 m in half space. The
// circuit takes the air in front of bare cones as mass only (Small); the insert
// and the stack take the exact radiation.
type Study struct {
	Design    *design.Design
	Sizing    sizing.Sizing
	Setup     driver.Setup
	Circuit   *driver.Circuit
	Volts     float64 // at the terminals of one box, rms
	Watts     float64 // that it puts into the nominal resistance
	Frequency []float64
	Points    []driver.Point
	Delay     []float64 // group delay, s
	Max       []driver.MaxPoint
	Summary   driver.Summary
	Crossings []driver.Crossing
	Suggested []driver.Suggestion
	LeakQ     float64         // taken for the suggestions
	LevelAt   float64         // where the maximum level is judged, Hz; NaN when there is no such place
	MaxAt     driver.MaxPoint // there

	Insert   *Insert             // nil without an insert, or with too little of one
	Stack    *driver.StackLevels // nil when it could not be computed
	StackWhy string              // why not
	Full     *Full               // nil when it could not be computed
	FullWhy  string              // why not
}

// Insert is what the insert changes, with the exact radiation on both sides.
type Insert struct {
	Effect driver.InsertEffect
	Change []driver.Difference // at the study's frequencies
	Most   driver.Difference   // where the insert raises the level most
	AtHorn driver.Difference   // at the horn's lower limit; Frequency NaN when that is not known
}

// typicalLeakQ is the leak taken for suggested vented boxes where the design
// gives none (Small 1973 calls 5 to 20 usual, 7 typical).
const typicalLeakQ = 7

// Run studies the box of a design. The error is of type *check.BoxError when the
// design does not give a box.
func Run(ctx context.Context, d *design.Design, o Options) (*Study, error) {
	o = o.withDefaults()
	s, err := open(d, o)
	if err != nil {
		return nil, err
	}
	s.alone()
	if err := s.addInsert(); err != nil {
		return nil, err
	}
	if err := s.addStack(ctx, o.Boxes); err != nil {
		return nil, err
	}
	if err := s.addFull(ctx, o.Signal); err != nil {
		return nil, err
	}
	return s, nil
}

// LowEnd studies what Run does of the single box's response and maximum level, and leaves
// all else out: it is for a what-if that must not wait.
func LowEnd(d *design.Design, o Options) (*Study, error) {
	s, err := open(d, o.withDefaults())
	if err != nil {
		return nil, err
	}
	s.drive()
	return s, nil
}

// open reads the box of a design.
func open(d *design.Design, o Options) (*Study, error) {
	f, err := o.frequencies()
	if err != nil {
		return nil, err
	}
	s := &Study{Design: d, Sizing: sizing.Size(d), Frequency: f, LevelAt: d.LevelAt()}
	if s.Setup, err = check.BoxSetup(d); err != nil {
		return nil, err
	}
	s.Circuit, err = driver.NewCircuit(s.Setup)
	return s, err
}

// drive works out response and maximum level of the single box.
func (s *Study) drive() {
	c := s.Circuit
	s.Volts = s.Design.DriveVoltage(c.NominalResistance())
	s.Watts = s.Volts * s.Volts / c.NominalResistance()
	s.Points = c.Sweep(nil, s.Frequency, s.Volts)
	s.Max = c.MaxLevel(s.Frequency)
	s.Summary = c.Summary()
}

// alone works out the single box.
func (s *Study) alone() {
	s.drive()
	c := s.Circuit
	s.Delay = make([]float64, len(s.Frequency))
	for i, f := range s.Frequency {
		s.Delay[i] = c.GroupDelay(f)
	}
	s.Crossings = c.Crossings(s.Frequency[0], s.Frequency[len(s.Frequency)-1])
	if !numeric.Given(s.LevelAt) {
		s.LevelAt = s.Summary.F3
	}
	if numeric.Given(s.LevelAt) {
		s.MaxAt = c.MaxLevel([]float64{s.LevelAt})[0]
	}
	s.LeakQ = s.Design.Enclosure.LeakQ.Value()
	if !numeric.Given(s.LeakQ) {
		s.LeakQ = typicalLeakQ
	}
	// No suggestion is a finding, not a failure.
	s.Suggested, _ = driver.Suggest(s.Setup.Driver, s.Setup.Count, s.LeakQ)
}

// ofInsert is a setup by which an insert is judged: with the exact radiation, and without
// the vent's action, which the circuit knows on bare cones only, not on mouths. It is left
// out on both sides.
func ofInsert(setup driver.Setup) driver.Setup {
	setup.Loading = driver.FullRadiation
	setup.Enclosure.Vent.Distance = optional.Float{}
	return setup
}

// exact is the setup with the exact radiation of cones, vents and mouths.
func (s *Study) exact() driver.Setup {
	e := s.Setup
	e.Loading = driver.FullRadiation
	return e
}

// coneRim is the radius of a driver's frame over that of its piston, for the
// distance of a vent beside it.
const coneRim = 1.2

// stacked is the exact setup with the vent beside the cones when the design does
// not say how far away it is: below the tuning the two nearly cancel, and the
// radiated power comes out right only with their action on each other.
func (s *Study) stacked() driver.Setup {
	e := s.exact()
	if e.Enclosure.Vent.Distance.Given() {
		return e
	}
	own := s.Circuit.Enclosure()
	area := float64(own.Vent.Count) * own.Vent.Area.Value()
	if own.Kind.Parts().Radiator {
		area = float64(own.Radiator.Count) * own.Radiator.Sd.Value()
	}
	if !numeric.Given(area) {
		area = 0
	}
	e.Enclosure.Vent.Distance = optional.Of(coneRim*math.Sqrt(s.Setup.Driver.Sd.Value()/math.Pi) + math.Sqrt(area/math.Pi))
	return e
}

func (s *Study) addInsert() error {
	if s.Setup.Insert == nil {
		return nil
	}
	c, err := driver.NewCircuit(ofInsert(s.Setup))
	if err != nil {
		return err
	}
	i := &Insert{}
	if i.Effect, err = c.InsertEffect(); err != nil {
		return err
	}
	if i.Change, err = c.CompareInsert(s.Frequency, s.Volts); err != nil {
		return err
	}
	if i.Most, err = c.LargestChange(i.Effect.Chamber.Corner, s.Volts); err != nil {
		return err
	}
	i.AtHorn.Frequency = numeric.Absent
	if high := s.Sizing.Gap.High; numeric.Given(high) {
		at, err := c.CompareInsert([]float64{high}, s.Volts)
		if err != nil {
			return err
		}
		i.AtHorn = at[0]
	}
	s.Insert = i
	return nil
}

// addStack works out the stack; what keeps it from being built is a remark.
func (s *Study) addStack(ctx context.Context, boxes []int) error {
	pitch := s.Design.Pitch()
	if !numeric.Given(pitch) {
		s.StackWhy = "the stack needs cabinet.height or cabinet.pitch"
		return nil
	}
	stack, err := driver.NewStackLevels(ctx, s.stacked(), boxes, pitch, s.Frequency, s.Volts)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		s.StackWhy = "the stack cannot be computed: " + err.Error()
		return nil
	}
	s.Stack = stack
	return nil
}

// Fastest returns the index at which the air in the vent moves fastest while the
// box plays its maximum level, from the frequency at which it is 10 dB down
// upward; −1 without a vent or a limit.
func (s *Study) Fastest() int {
	floor := s.Summary.F10
	best := -1
	for i, m := range s.Max {
		if m.Frequency < floor || !numeric.Given(m.VentSpeed) {
			continue
		}
		if best < 0 || m.VentSpeed > s.Max[best].VentSpeed {
			best = i
		}
	}
	return best
}

// Widest returns the index of the largest cone excursion at the study's voltage,
// from the frequency at which the box is 10 dB down upward.
func (s *Study) Widest() int {
	best := len(s.Points) - 1
	for i := best; i >= 0 && !(s.Frequency[i] < s.Summary.F10); i-- {
		if s.Points[i].Excursion > s.Points[best].Excursion {
			best = i
		}
	}
	return best
}

// ModelsPart returns the index at which one box in the stack's model and the box
// alone part most, from the frequency at which it is 10 dB down upward, and by how
// many dB; −1 where the stack has no single box.
func (s *Study) ModelsPart() (at int, db float64) {
	at = -1
	if s.Stack == nil || s.Stack.Boxes[0] != 1 {
		return at, 0
	}
	for i, f := range s.Frequency {
		if d := s.Stack.Points[0][i].Axis - s.Points[i].Level(); f >= s.Summary.F10 && math.Abs(d) > math.Abs(db) {
			at, db = i, d
		}
	}
	return at, db
}
