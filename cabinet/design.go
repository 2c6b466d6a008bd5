package cabinet

import (
	"math"

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
	Fold      Fold
	Crossover Crossover
	Targets   Targets
	Hanging   Hanging
	Bands     Bands
	Low       LowCrossover
	Audience  Audience
	Drive     Drive
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
	Size              float64 // nominal diameter, m
	EffectiveDiameter float64 // of the radiating piston, m; by default 0.82·Size
	PerBox            int     // by default 1
	Spacing           float64 // vertical distance between the woofers of one box, m; NaN: side by side

	Fs, Qes, Qms   float64 // free-air resonance, Hz; electrical and mechanical Q
	Vas            float64 // equivalent volume, m³
	Re, Le         float64 // voice coil, Ω and H
	Sd             float64 // piston area, m²
	Xmax           float64 // one-way excursion limit, m
	Bl, Mms, Power float64 // T·m, kg, W
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

// Enclosure is the box behind the woofer.
type Enclosure struct {
	Kind                 string  // one of EnclosureKinds
	Volume               float64 // m³
	Tuning               float64 // Hz
	LeakQ                float64
	VentArea, VentLength float64 // m², m
}

// EnclosureKinds lists the enclosures a design may name.
var EnclosureKinds = []string{"closed", "vented", "passive radiator"}

// Insert is a plate close in front of the cones that leaves Mouths openings in
// each box.
type Insert struct {
	Mouths                  int
	Spacing                 float64 // between neighbouring mouths of one box, m; by default pitch/Mouths
	MouthHeight, MouthWidth float64 // m
	SlotDepth               float64 // thickness of the plate at the mouths, m
	ChamberVolume           float64 // air between cones and plate, per box, m³
}

// Fold is the folded horn path.
type Fold struct {
	ThroatToWall float64 // throat to the wall's vertex, m
	VirtualPath  float64 // m; +Inf for a plane front
	Layer        float64 // thickness of each layer, m
}

// Crossover is where woofers (or mids) and horn meet.
type Crossover struct {
	Frequency float64 // Hz
	Order     int
	Alignment string // one of Alignments
}

// Alignments lists the crossover alignments a design may name.
var Alignments = []string{"butterworth", "linkwitz-riley"}

// Targets are what the designer asks of the design.
type Targets struct {
	Coupling  string  // the basis of the gap, one of Bases; by default HalfWave
	LobeLevel float64 // highest lobe, dB re axis; by default DefaultLobeLevel
	Gap       float64 // widest crossover gap, octaves; by default 0
	FlatTo    float64 // frequency to which the horn's front must be flat, Hz
	Lowest    float64 // frequency from which the line must couple, Hz
}

// The two bases of the gap.
const (
	HalfWave = "half-wave"
	Lobe     = "lobe"
)

// Bases lists the bases of the gap a design may name.
var Bases = []string{HalfWave, Lobe}

// DefaultLobeLevel is the default lobe target in dB: just above the first side
// lobe of an ideal uniform line, -13.3 dB.
const DefaultLobeLevel = -12

// EffectiveShare is effective over nominal diameter of a cone: common practice,
// no source.
const EffectiveShare = 0.82

// New returns a design in which nothing is given but the standard air.
func New() Design {
	a := numeric.Absent
	return Design{
		Air:       air.Standard,
		Cabinet:   Dimensions{a, a, a, a, a},
		Line:      Line{TopHeight: a, Tilt: a},
		Woofer:    Woofer{Size: a, EffectiveDiameter: a, Spacing: a, Fs: a, Qes: a, Qms: a, Vas: a, Re: a, Le: a, Sd: a, Xmax: a, Bl: a, Mms: a, Power: a},
		Mid:       Mid{Size: a, EffectiveDiameter: a, Spacing: a, Lowest: a},
		Enclosure: Enclosure{Volume: a, Tuning: a, LeakQ: a, VentArea: a, VentLength: a},
		Insert:    Insert{Spacing: a, MouthHeight: a, MouthWidth: a, SlotDepth: a, ChamberVolume: a},
		Horn:      waveguide.Horn{Coverage: a, MouthWidth: a, MouthHeight: a, PathLength: a, Throat: a, Length: a, Family: a, Lowest: a},
		Fold:      Fold{a, a, a},
		Crossover: Crossover{Frequency: a},
		Targets:   Targets{LobeLevel: a, Gap: a, FlatTo: a, Lowest: a},
		Bands:     newBands(),
		Low:       LowCrossover{Frequency: a},
		Audience:  newAudience(),
		Drive:     Drive{a, a},
	}
}

// Pitch returns the distance from box to box in m: as given, or cabinet height
// plus gap (a gap that is not given counts as 0).
func (d *Design) Pitch() float64 {
	if numeric.Given(d.Cabinet.Pitch) {
		return d.Cabinet.Pitch
	}
	return d.Cabinet.Height + orElse(d.Cabinet.Gap, 0)
}

// SetPitch changes the pitch in m. Where the design gives the cabinet's height
// and leaves the pitch to follow from it, the height moves and the gap stays.
func (d *Design) SetPitch(pitch float64) {
	if numeric.Given(d.Cabinet.Pitch) || !numeric.Given(d.Cabinet.Height) {
		d.Cabinet.Pitch = pitch
		return
	}
	d.Cabinet.Height = pitch - orElse(d.Cabinet.Gap, 0)
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

// Basis returns the basis of the gap.
func (d *Design) Basis() string {
	if d.Targets.Coupling == "" {
		return HalfWave
	}
	return d.Targets.Coupling
}

// LobeTarget returns the highest lobe allowed, as a pressure ratio to the axis.
func (d *Design) LobeTarget() float64 {
	return numeric.FromDB(orElse(d.Targets.LobeLevel, DefaultLobeLevel))
}

// PathLength returns the distance of the front's apex behind the horn's mouth
// in m: the fold's virtual path where one is given, else the horn's own path.
func (d *Design) PathLength() float64 {
	return orElse(d.Fold.VirtualPath, d.Horn.PathLength)
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
	return orElse(m.EffectiveDiameter, EffectiveShare*m.Size)
}

func orElse(x, otherwise float64) float64 {
	if numeric.Given(x) {
		return x
	}
	return otherwise
}
