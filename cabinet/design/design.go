package design

import (
	"gapline/cabinet/filter"
	"math"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Design is one line-array box and the stack it stands in, all SI. A float
// that was not given is NaN and a count that was not given is 0; New returns
// such a design. Methods fill in what follows from other fields.
type Design struct {
	Title     string
	Air       air.Conditions
	Cabinet   Dimensions
	Line      Line
	Woofer    Woofer
	Mid       Mid
	Enclosure Enclosure
	Insert    Insert
	Horn      waveguide.Horn
	HornDrive HornDrive
	Fold      Fold
	Crossover Crossover
	Targets   Targets
	Cost      Cost
	Hanging   Hanging
	Bands     Bands
	Low       LowCrossover
	Audience  Audience
	Drive     Drive
	Section   Section
	Review    Review
}

// Dimensions are the outside of the cabinet and the distance to the next one.
type Dimensions struct {
	Height, Width, Depth float64 // m
	Gap                  float64 // between neighbouring cabinets, m
	Pitch                float64 // from box to box, m; by default Height + Gap
}

// Line is the stack.
type Line struct {
	Boxes     int
	Splay     []float64 // rad between neighbours, from the top; Boxes − 1 long
	TopHeight float64   // m above the floor
	Tilt      float64   // rad, of the top box, positive upward
}

// Woofer is the low-frequency driver and its place in the box.
type Woofer struct {
	driver.Parameters // Size is the nominal diameter; EffectiveDiameter is by default 0.82·Size

	Title   string  // of the driver, from its own file
	File    string  // the driver's own file, relative to the design file
	PerBox  int     // by default 1
	Spacing float64 // vertical distance between the woofers of one box, m; NaN: side by side
	Wiring  driver.Wiring
}

// Mid is an optional band of smaller drivers between woofers and horn. When a
// design has one, the gap is measured from the mid line to the horn.
type Mid struct {
	Size              float64 // nominal diameter, m
	EffectiveDiameter float64 // m; by default 0.82·Size
	PerBox            int     // by default 1
	Spacing           float64 // vertical distance between the mids of one box, m
	Lowest            float64 // lowest crossover frequency, Hz
}

// Enclosure is the box behind the woofers.
type Enclosure struct {
	Kind        driver.EnclosureKind // not given: as the other keys imply
	Volume      float64              // net, behind all woofers of one box, m³
	Tuning      float64              // Hz
	LeakQ       float64              // Q of the leakage
	AbsorptionQ float64              // Q of the filling
	VentQ       float64              // Q of the vent's friction

	Vent         driver.Vent
	VentDiameter float64 // of a round vent, m; another way of giving Vent.Area

	Radiator    driver.Radiator
	RadiatorVas float64 // of one passive radiator, m³; another way of giving its Cms
}

// Insert is a plate close in front of the cones that leaves Mouths openings in
// each box.
type Insert struct {
	Mouths                  int
	Spacing                 float64 // between neighbouring mouths of one box, m; by default pitch/Mouths
	MouthHeight, MouthWidth float64 // m
	SlotDepth               float64 // thickness of the plate at the mouths, m
	ChamberVolume           float64 // air between cones and plate, per box, m³
	PlateWidth, PlateHeight float64 // outside of the plate, m; by default the woofer's size and the cabinet's height
}

// Crossover is where woofers (or mids) and horn meet.
type Crossover struct {
	Frequency float64 // Hz
	Order     int
	Alignment filter.Alignment
}

// Targets are what the designer asks of the design.
type Targets struct {
	Coupling  Basis   // of the gap
	LobeLevel float64 // highest lobe, dB re axis; by default DefaultLobeLevel
	Gap       float64 // widest crossover gap, octaves; by default 0
	FlatTo    float64 // frequency to which the horn's front must be flat, Hz
	Lowest    float64 // frequency from which the line must couple, Hz
	LevelAt   float64 // frequency at which the maximum level is judged, Hz; by default Lowest
	Level     float64 // maximum level of one box wanted there, dB at 1 m in half space
}

// Drive is the signal at the terminals of one box. Give one of both.
type Drive struct {
	Voltage float64 // rms, V; by default DefaultVoltage
	Power   float64 // W into the nominal resistance
}

// DefaultVoltage puts 1 W into 8 Ω, V.
const DefaultVoltage = 2.83

// Cost holds prices in any currency, all of one piece.
type Cost struct {
	Woofer, Mid, Horn float64 // drivers; Horn is the compression driver with its horn
	Crossover         float64 // of one crossover point, whatever it takes
	Cabinet, Insert   float64 // by default 0
}

// DefaultLobeLevel is the default lobe target in dB: just above the first side
// lobe of an ideal uniform line, -13.3 dB.
const DefaultLobeLevel = -12

// EffectiveShare is effective over nominal diameter of a cone: common practice,
// no source.
const EffectiveShare = driver.SizeRule

// New returns a design in which nothing is given but the standard air.
func New() Design {
	a := numeric.Absent
	return Design{
		Air:       air.Standard,
		Cabinet:   Dimensions{a, a, a, a, a},
		Line:      Line{TopHeight: a, Tilt: a},
		Woofer:    Woofer{Parameters: driver.Blank(), Spacing: a},
		Mid:       Mid{Size: a, EffectiveDiameter: a, Spacing: a, Lowest: a},
		Enclosure: blankEnclosure(),
		Insert:    Insert{Spacing: a, MouthHeight: a, MouthWidth: a, SlotDepth: a, ChamberVolume: a, PlateWidth: a, PlateHeight: a},
		Horn:      waveguide.NewHorn(),
		HornDrive: newHornDrive(),
		Fold:      newFold(),
		Crossover: Crossover{Frequency: a},
		Targets:   Targets{LobeLevel: a, Gap: a, FlatTo: a, Lowest: a, LevelAt: a, Level: a},
		Cost:      Cost{a, a, a, a, a, a},
		Bands:     newBands(),
		Low:       LowCrossover{Frequency: a},
		Audience:  newAudience(),
		Drive:     Drive{a, a},
		Section:   Section{SlotWidth: a, EdgeRadius: a},
	}
}

func blankEnclosure() Enclosure {
	a := numeric.Absent
	b := driver.BlankEnclosure()
	return Enclosure{Volume: a, Tuning: a, LeakQ: a, AbsorptionQ: a, VentQ: a,
		Vent: b.Vent, VentDiameter: a, Radiator: b.Radiator, RadiatorVas: a}
}

// Pitch returns the distance from box to box in m: as given, or cabinet height
// plus gap (a gap that is not given counts as 0).
func (d *Design) Pitch() float64 {
	if numeric.Given(d.Cabinet.Pitch) {
		return d.Cabinet.Pitch
	}
	return d.Cabinet.Height + numeric.Or(d.Cabinet.Gap, 0)
}

// SetPitch changes the pitch in m. Where the design gives the cabinet's height
// and leaves the pitch to follow from it, the height moves and the gap stays.
func (d *Design) SetPitch(pitch float64) {
	if numeric.Given(d.Cabinet.Pitch) || !numeric.Given(d.Cabinet.Height) {
		d.Cabinet.Pitch = pitch
		return
	}
	d.Cabinet.Height = pitch - numeric.Or(d.Cabinet.Gap, 0)
}

// Length returns the length of the whole line, boxes times pitch, in m.
func (d *Design) Length() float64 {
	if d.Line.Boxes == 0 {
		return numeric.Absent
	}
	return float64(d.Line.Boxes) * d.Pitch()
}

// HasInsert reports whether the design has a mouth-splitting insert.
func (d *Design) HasInsert() bool { return d.Insert.Mouths > 0 }

// HasMid reports whether the design has a mid band.
func (d *Design) HasMid() bool {
	return numeric.Given(d.Mid.Size) || numeric.Given(d.Mid.EffectiveDiameter) || d.Mid.PerBox > 0
}

// LobeTarget returns the highest lobe allowed, as a pressure ratio to the axis.
func (d *Design) LobeTarget() float64 {
	return numeric.FromDB(numeric.Or(d.Targets.LobeLevel, DefaultLobeLevel))
}

// Diameter returns the effective diameter in m: as given, from the piston
// area, or EffectiveShare of the nominal size.
func (w *Woofer) Diameter() float64 {
	if numeric.Given(w.EffectiveDiameter) {
		return w.EffectiveDiameter
	}
	if numeric.Given(w.Sd) {
		return 2 * math.Sqrt(w.Sd/math.Pi)
	}
	return EffectiveShare * w.Size
}

// PistonArea returns the area of one cone in m².
func (w *Woofer) PistonArea() float64 {
	if numeric.Given(w.Sd) {
		return w.Sd
	}
	d := w.Diameter()
	return math.Pi * d * d / 4
}

// Diameter returns the effective diameter in m, as for a woofer.
func (m *Mid) Diameter() float64 {
	return numeric.Or(m.EffectiveDiameter, EffectiveShare*m.Size)
}
