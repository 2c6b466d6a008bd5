package driver

import (
	"errors"
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// MouthSpeedCaution is the peak air speed in m/s above which a vent or mouth is
// likely to be heard at low frequency (common practice, no source).
const MouthSpeedCaution = 17

// InsertEffect is what the insert does to its box.
type InsertEffect struct {
	Chamber       Chamber
	PeakFrequency float64 // of mouth over cone volume velocity, exact radiation, Hz
	Peak          float64 // its height, dB
	AddedMass     float64 // on each cone, net of the free air load it replaces, kg
	Resonance     float64 // fs in free air with that mass, Hz
	Sensitivity   float64 // change of the passband level by that mass, dB
	AreaRatio     float64 // cone area over mouth area
	LimitSpeed    float64 // highest mouth air speed at the displacement limit, peak, m/s; NaN without Xmax or power rating
	LimitAt       float64 // where: the highest frequency up to the corner at which the displacement limits, Hz
	Path          PathSpread
}

// errNoInsert is returned where an insert is needed.
var errNoInsert = errors.New("this box has no insert")

// InsertEffect returns the insert's figures, or an error when the circuit has
// none.
func (c *Circuit) InsertEffect() (InsertEffect, error) {
	l := c.front.insert
	if l == nil {
		return InsertEffect{}, errNoInsert
	}
	chamber, err := c.setup.Insert.Chamber(c.air)
	if err != nil {
		return InsertEffect{}, err
	}
	e := InsertEffect{Chamber: chamber, AreaRatio: c.count * c.sd / l.area, Path: c.pathSpread()}
	e.AddedMass = c.count * c.sd * c.sd * (chamber.Mass - l.airMass)
	growth := 1 + e.AddedMass/c.mass
	e.Resonance = c.setup.Driver.Fs.Value() / math.Sqrt(growth)
	e.Sensitivity = -numeric.DB(growth)
	e.PeakFrequency, e.Peak = highest(chamber.Corner, 0.5, func(f float64) float64 {
		return numeric.DB(cmplx.Abs(l.at(2 * math.Pi * f).transfer))
	})
	e.LimitAt, e.LimitSpeed = c.limitSpeed(chamber.Corner)
	return e, nil
}

// highest finds the maximum of a level in dB over the frequency in Hz, from an
// octave and a half below the corner to so many octaves above it.
func highest(corner, above float64, level func(f float64) float64) (frequency, db float64) {
	best, at := math.Inf(-1), 0.0
	const step = math.Ln2 / scanSteps
	for x := math.Log(corner) - 1.5*math.Ln2; x < math.Log(corner)+above*math.Ln2; x += step {
		if v := level(math.Exp(x)); v > best {
			best, at = v, x
		}
	}
	at = numeric.Minimum(func(x float64) float64 { return -level(math.Exp(x)) }, at-step, at+step, 1e-10)
	return math.Exp(at), level(math.Exp(at))
}

// limitSpeed returns the highest frequency up to top at which the displacement
// limits the level, and the mouths' air speed there. Speed grows with frequency
// at equal displacement, so this is its highest value.
func (c *Circuit) limitSpeed(top float64) (frequency, speed float64) {
	lo, _ := c.span()
	crossings := c.Crossings(lo/4, top)
	for i := len(crossings) - 1; i >= 0; i-- {
		x := crossings[i]
		if x.Below == ExcursionLimit {
			return x.Frequency, c.At(x.Frequency, c.maxAt(x.Frequency).Volts).MouthSpeed
		}
	}
	return numeric.Absent, numeric.Absent
}

// Without returns the same box without its insert.
func (c *Circuit) Without() (*Circuit, error) {
	s := c.setup
	s.Insert = nil
	return NewCircuit(s)
}

// Difference is the response with the insert against that without.
type Difference struct {
	Frequency     float64 // Hz
	With, Without float64 // level at 1 m in half space, dB
	Change        float64 // dB
}

// CompareInsert returns the levels with and without the insert at the
// frequencies f in Hz and the given terminal voltage in V.
func (c *Circuit) CompareInsert(f []float64, volts float64) ([]Difference, error) {
	if c.front.insert == nil {
		return nil, errNoInsert
	}
	bare, err := c.Without()
	if err != nil {
		return nil, err
	}
	out := make([]Difference, len(f))
	for i, x := range f {
		out[i] = c.against(bare, x, volts)
	}
	return out, nil
}

// against compares the circuit with the one without insert at one frequency.
func (c *Circuit) against(bare *Circuit, f, volts float64) Difference {
	with, without := c.At(f, volts).Level(), bare.At(f, volts).Level()
	return Difference{Frequency: f, With: with, Without: without, Change: with - without}
}

// LargestChange returns where within an octave and a half of the corner in Hz the
// insert raises the level most, at the terminal voltage in V. It is not the peak
// of mouths over cones: the mouths load the cones.
func (c *Circuit) LargestChange(corner, volts float64) (Difference, error) {
	if c.front.insert == nil {
		return Difference{}, errNoInsert
	}
	bare, err := c.Without()
	if err != nil {
		return Difference{}, err
	}
	f, _ := highest(corner, 1.5, func(f float64) float64 { return c.against(bare, f, volts).Change })
	return c.against(bare, f, volts), nil
}

// PathSpread is how much longer some parts of a cone have to the nearest mouth
// than others, along the plate. Mouths radiate in phase only while the spread
// is a small fraction of the wavelength.
type PathSpread struct {
	Centre  float64 // from the cone's centre to the nearest mouth, m
	Edge    float64 // from the nearest point of its edge, m
	Spread  float64 // longest minus shortest path over the whole cone, m
	Quarter float64 // frequency at which the spread is λ/4, Hz; +Inf when it is zero
}

// Fraction returns the spread as a fraction of the wavelength at frequency f in
// Hz for sound speed speed in m/s.
func (p PathSpread) Fraction(f, speed float64) float64 { return p.Spread * f / speed }

// pathSpread is that of one column of the circuit's cones.
func (c *Circuit) pathSpread() PathSpread {
	spacing, _ := c.spacings()
	columns := max(c.setup.Columns, 1)
	column := ConePositions((c.setup.Count+columns-1)/columns, 1, spacing, 0)
	return c.setup.Insert.PathSpread(column, math.Sqrt(c.sd/math.Pi), c.air.SoundSpeed)
}

// conePositions are the places of the circuit's drivers.
func (c *Circuit) conePositions() []Position {
	columns := max(c.setup.Columns, 1)
	spacing, lateral := c.spacings()
	return ConePositions((c.setup.Count+columns-1)/columns, columns, spacing, lateral)
}

// pathRows is how many rows of a cone are looked at, evenly spaced in angle from
// its lowest to its highest point; odd, so that the middle is among them.
const pathRows = 61

// PathSpread compares the ways from all places of cones of the radius in m to
// the nearest mouth, along the plate; a place under a mouth has none. A mouth
// whose width is not given counts as wide as the cones, one whose height is not
// given as a line. speed is that of sound in m/s.
//
// Away from the middle of the mouths the way only grows, so that in each row the
// place nearest to that middle has the shortest and one of the ends the longest.
func (i *Insert) PathSpread(cones []Position, radius, speed float64) PathSpread {
	if !(radius > 0) {
		return PathSpread{numeric.Absent, numeric.Absent, numeric.Absent, numeric.Absent}
	}
	shortest, longest := math.Inf(1), 0.0
	edge, centre := math.Inf(1), math.Inf(1)
	for _, at := range cones {
		centre = min(centre, i.path(at.X, at.Y))
		for row := range pathRows {
			sin, cos := math.Sincos(math.Pi * (float64(row)/(pathRows-1) - 0.5))
			y, half := at.Y+radius*sin, radius*cos
			left, right := i.path(at.X-half, y), i.path(at.X+half, y)
			edge = min(edge, left, right)
			longest = max(longest, left, right)
			shortest = min(shortest, i.path(max(math.Abs(at.X)-half, 0), y))
		}
	}
	p := PathSpread{Centre: centre, Edge: edge, Spread: longest - shortest}
	p.Quarter = speed / (4 * p.Spread)
	return p
}

// path returns the distance in the plane from (x, y) to the nearest point of
// the nearest mouth, in m.
func (i *Insert) path(x, y float64) float64 {
	width := i.Width
	if !numeric.Given(width) {
		width = math.Inf(1)
	}
	best := math.Inf(1)
	for m := range i.Mouths {
		dy := max(math.Abs(y-i.mouthOffset(m))-i.Height/2, 0)
		dx := max(math.Abs(x)-width/2, 0)
		best = min(best, dx*dx+dy*dy)
	}
	return math.Sqrt(best)
}

// mouthOffset returns the height of mouth m above the centre of the box, m.
func (i *Insert) mouthOffset(m int) float64 {
	return (float64(m) - float64(i.Mouths-1)/2) * i.Spacing
}

// Position is a place on the front of a box, horizontal and vertical from its
// centre, m.
type Position struct{ X, Y float64 }

// ConePositions returns the places of the drivers of one box, in rows spacing and
// columns lateral apart, m.
func ConePositions(rows, columns int, spacing, lateral float64) []Position {
	out := make([]Position, 0, rows*columns)
	for row := range rows {
		for column := range columns {
			out = append(out, Position{X: centred(column, columns, lateral), Y: centred(row, rows, spacing)})
		}
	}
	return out
}

// centred is the place of member i of n about their middle; one alone stands there,
// whatever the step.
func centred(i, n int, step float64) float64 {
	if n == 1 {
		return 0
	}
	return (float64(i) - float64(n-1)/2) * step
}
