package design

import (
	"gapline/cabinet/filter"
	"math"

	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// Design is one line-array box and the stack it stands in, all SI. What
// was not given is the zero value, of a number as of a count, so that its parts compare with ==;
// only the air is always given, see New. Methods fill in what follows from other fields.
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
	Measured  Measured
	Review    Review
}

// Dimensions are the outside of the cabinet and the distance to the next one.
type Dimensions struct {
	Height, Width, Depth optional.Float // m
	Gap                  optional.Float // between neighbouring cabinets, m
	Pitch                optional.Float // from box to box, m; by default Height + Gap
	RearHeight           optional.Float // of a box that tapers towards the rear, m; by default Height
	Wall                 optional.Float // thickness of the panels, m
}

// Line is the stack.
type Line struct {
	Boxes     int
	Splay     []float64      // rad between neighbours, from the top; Boxes − 1 long
	TopHeight optional.Float // m above the floor
	Tilt      optional.Float // rad, of the top box, positive upward
}

// Woofer is the low-frequency driver and its place in the box.
type Woofer struct {
	driver.Parameters // Size is the nominal diameter; EffectiveDiameter is by default 0.82·Size

	Title   string         // of the driver, from its own file
	File    string         // the driver's own file, relative to the design file
	PerBox  int            // by default 1
	Spacing optional.Float // vertical distance between the woofers of one box, m; not given: side by side
	Wiring  driver.Wiring
}

// Mid is an optional band of smaller drivers between woofers and horn. When a
// design has one, the gap is measured from the mid line to the horn.
type Mid struct {
	driver.Parameters // Size is the nominal diameter; EffectiveDiameter is by default 0.82·Size

	Title   string         // of the driver, from its own file
	File    string         // the driver's own file, relative to the design file
	PerBox  int            // by default 1
	Spacing optional.Float // vertical distance between the mids of one box, m
	Lowest  optional.Float // lowest crossover frequency, Hz
	Wiring  driver.Wiring
	Volume  optional.Float // closed, behind all mids of one box, m³; not given: the parameters hold as they are
}

// Enclosure is the box behind the woofers.
type Enclosure struct {
	Kind        driver.EnclosureKind // not given: as the other keys imply
	Volume      optional.Float       // net, behind all woofers of one box, m³
	Tuning      optional.Float       // Hz
	LeakQ       optional.Float       // Q of the leakage
	AbsorptionQ optional.Float       // Q of the filling
	VentQ       optional.Float       // Q of the vent's friction

	Vent         driver.Vent
	VentDiameter optional.Float // of a round vent, m; another way of giving Vent.Area

	Radiator    driver.Radiator
	RadiatorVas optional.Float // of one passive radiator, m³; another way of giving its Cms

	VentPlace, RadiatorPlace Outlet
}

// Insert is a plate close in front of the cones that leaves Mouths openings one above
// the other, in each box and in front of each column of woofers.
type Insert struct {
	Mouths                  int
	Spacing                 optional.Float // between neighbouring mouths of one box, m; by default pitch/Mouths
	MouthHeight, MouthWidth optional.Float // m
	SlotDepth               optional.Float // thickness of the plate at the mouths, m
	ChamberVolume           optional.Float // air between cones and plate, per box, m³
	PlateWidth, PlateHeight optional.Float // outside of the plate, m; by default the woofer's size and the cabinet's height
}

// Crossover is where woofers (or mids) and horn meet.
type Crossover struct {
	Frequency optional.Float // Hz
	Order     int
	Alignment filter.Alignment
}

// Targets are what the designer asks of the design.
type Targets struct {
	Coupling  Basis          // of the gap
	LobeLevel optional.Float // highest lobe, dB re axis; by default DefaultLobeLevel
	Gap       optional.Float // widest crossover gap, octaves; by default 0
	Trust     Deciding       // level whose figures decide the verdict
	FlatTo    optional.Float // frequency to which the horn's front must be flat, Hz
	Lowest    optional.Float // frequency from which the line must couple, Hz
	LevelAt   optional.Float // frequency at which the maximum level is judged, Hz; by default Lowest
	Level     optional.Float // maximum level of one box wanted there, dB at 1 m in half space
}

// Drive is the signal at the terminals of one box. Give one of both.
type Drive struct {
	Voltage optional.Float // rms, V; by default DefaultVoltage
	Power   optional.Float // W into the nominal resistance
}

// DefaultVoltage puts 1 W into 8 Ω, V.
const DefaultVoltage = 2.83

// Cost holds prices in any currency, all of one piece.
type Cost struct {
	Woofer, Mid, Horn optional.Float // drivers; Horn is the compression driver with its horn
	Crossover         optional.Float // of one crossover point, whatever it takes
	Cabinet, Insert   optional.Float // by default 0
}

// DefaultLobeLevel is the default lobe target in dB: just above the first side
// lobe of an ideal uniform line, -13.3 dB.
const DefaultLobeLevel = -12

// EffectiveShare is effective over nominal diameter of a cone: common practice,
// no source.
const EffectiveShare = driver.SizeRule

// New returns a design in which nothing is given but the standard air.
func New() Design { return Design{Air: air.Standard} }

// Pitch returns the distance from box to box in m: as given, or cabinet height
// plus gap (a gap that is not given counts as 0).
func (d *Design) Pitch() float64 {
	if d.Cabinet.Pitch.Given() {
		return d.Cabinet.Pitch.Value()
	}
	return d.Cabinet.Height.Value() + d.Cabinet.Gap.Or(0)
}

// SetPitch changes the pitch in m. Where the design gives the cabinet's height
// and leaves the pitch to follow from it, the height moves and the gap stays.
func (d *Design) SetPitch(pitch float64) {
	if d.Cabinet.Pitch.Given() || !d.Cabinet.Height.Given() {
		d.Cabinet.Pitch = optional.Of(pitch)
		return
	}
	d.Cabinet.Height = optional.Of(pitch - d.Cabinet.Gap.Or(0))
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
	return d.Mid.Size.Given() || d.Mid.EffectiveDiameter.Given() || d.Mid.Sd.Given() || d.Mid.PerBox > 0
}

// LobeTarget returns the highest lobe allowed, as a pressure ratio to the axis.
func (d *Design) LobeTarget() float64 {
	return numeric.FromDB(d.Targets.LobeLevel.Or(DefaultLobeLevel))
}

// Diameter returns the effective diameter in m: as given, from the piston
// area, or EffectiveShare of the nominal size.
func (w *Woofer) Diameter() float64 { return diameter(&w.Parameters) }

func diameter(p *driver.Parameters) float64 {
	if p.EffectiveDiameter.Given() {
		return p.EffectiveDiameter.Value()
	}
	if p.Sd.Given() {
		return 2 * math.Sqrt(p.Sd.Value()/math.Pi)
	}
	return EffectiveShare * p.Size.Value()
}

// PistonArea returns the area of one cone in m².
func (w *Woofer) PistonArea() float64 {
	if w.Sd.Given() {
		return w.Sd.Value()
	}
	d := w.Diameter()
	return math.Pi * d * d / 4
}

// Diameter returns the effective diameter in m, as for a woofer.
func (m *Mid) Diameter() float64 { return diameter(&m.Parameters) }
