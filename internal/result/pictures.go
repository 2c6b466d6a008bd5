package result

import (
	"gapline/internal/figure"
	"gapline/internal/quantity"
)

// Caption is the words around a picture. Design and air are the renderer's to add.
type Caption struct {
	ID       string // of the picture in a document, unique there
	Title    string
	TitleAt  Text // behind the title, where a number belongs to it
	Subtitle Text // conditions: model, boundary, distance, drive, smoothing
	Design   string
	Air      Text
	Trust    string // a level of trust, or several in words
	Origin   string
	Alt      Text   // for readers who do not see the picture
	Page     string // under the picture in a document; empty: the title
}

// Axis is one axis of a picture. Numbers of the axis are SI; the renderer converts
// them to the unit that it writes.
type Axis struct {
	Label     string
	Fig       *figure.Def   // for the unit
	Kind      quantity.Kind // where Fig is nil
	Unit      string        // as written, where it is not the kind's: "ρc/S"
	InchUnit  string        // in place of Unit where lengths are in inches
	Suited    bool          // in place of both the one in which the reader's system shows the kind
	Scale     Scale
	Low, High float64 // both 0: from the data
	Step      float64
}

// Scale says how an axis is divided.
type Scale uint8

// The scales.
const (
	Linear Scale = iota
	Logarithmic
	FrequencyScale // logarithmic, in Hz, labelled 20 50 100 … 1k …
)

// Series is curves in panels, one below the other over a shared axis.
type Series struct {
	Shown
	Caption
	Form    Form
	X       Axis
	Panels  []Panel
	Nominal float64 // of a beamwidth chart, rad
	Present *Mark   // of a lever chart: the design as it stands
	Left    bool    // of a polar chart: positive angles are to the left
}

// Form is the kind of chart.
type Form uint8

// The forms.
const (
	Chart     Form = iota // panels of curves
	Beamwidth             // angles over frequency, with the nominal one as a line
	Polar                 // relative levels over angle, on a half or whole circle
	Lever                 // the gap over a lever of the design
)

// Panel is one set of curves over the shared axis.
type Panel struct {
	Y          Axis
	Curves     []Curve
	Marks      []Mark
	Guides     []Guide
	Zones      []Zone
	Proportion Proportion
	Height     float64 // points; 0: what suits
}

// Proportion ties the height of a panel to its frequency axis (IEC 60263).
type Proportion uint8

// The proportions: none, decibels to the decade, decades to the decade.
const (
	Free Proportion = iota
	LevelProportion
	LogProportion
)

// Curve is one line, SI. NaN breaks it.
type Curve struct {
	Label     Text
	X, Y      []float64
	Low, High []float64 // of a band about the curve
	Dash      Dash
	Colour    int // palette number, 0: the next
	Thin      bool
	Dots      bool
	Hollow    []bool // points of designs that cannot be built
}

// Dash is how a line is broken; the zero value takes the next pattern in turn.
type Dash uint8

// The dashes.
const (
	AutoDash Dash = iota
	Solid
	Dashed
	Dotted
	DashDot
	LongDash
	ShortDash
)

// Mark is a point with a text beside it.
type Mark struct {
	X, Y float64
	Text Text
}

// Guide is a straight line across a panel.
type Guide struct {
	Value    float64
	Vertical bool
	Text     Text
	Strong   bool
}

// Zone is a shaded range with a word in it.
type Zone struct {
	Low, High float64
	Text      Text
	Open      bool
}

// Map says how a grid is drawn. The grid's X is the horizontal axis.
type Map struct {
	Caption
	Form     MapForm
	X, Y     Axis
	Value    Axis
	Levels   []float64 // of contours, in the unit of Value; nil: round steps
	Bold     []Mark    // contours of special meaning: X the value, Text its label
	Range    float64   // dB shown below the highest level of an angle map; 0: 30
	Swings   bool      // a quantity that swings about zero
	BoldOnly bool
	Equal    bool // both axes to one scale
	Marks    []Mark
	Overlays []Overlay
	Present  *Mark    // of a gap map
	Hollow   [][]bool // of a gap map: designs that cannot be built
	Height   float64
}

// MapForm is the kind of map.
type MapForm uint8

// The forms of maps.
const (
	FreeMap  MapForm = iota
	AngleMap         // relative level over frequency and angle, −6 dB bold
	GapMap           // the gap over two levers
	FieldMap         // level over a place, both axes to one scale
)

// Overlay is a line drawn over a map, m.
type Overlay struct {
	Label string
	X, Y  []float64
	Thin  bool
	Solid bool
	Blank bool // without its line
}

// Shape is a view of parts to scale: outlines, dimensions and notes, m.
type Shape struct {
	Shown
	Caption
	X, Y       Axis
	Lines      []Line
	Dimensions []Dimension
	Notes      []Mark
}

// Line is a connected line of a Shape.
type Line struct {
	Label  Text
	X, Y   []float64
	Kind   LineKind
	Closed bool
}

// LineKind is what a line of a drawing stands for.
type LineKind uint8

// The kinds of line.
const (
	Outline LineKind = iota
	Wall
	Hidden
	CentreLine
	Ray
	Layer
	Clash // of a part that cannot be built where it stands
)

// Dimension is a measure between two points.
type Dimension struct {
	X0, Y0, X1, Y1 float64
	Offset         float64 // points on the sheet, to the left of the way from 0 to 1
	Text           Text
}

// Strip is the frequency strip: where each part of a design does its job.
type Strip struct {
	Shown
	Caption
	Groups    []StripGroup
	Low, High float64 // Hz; 0: 20 Hz and 20 kHz
}

// StripGroup is one design.
type StripGroup struct {
	Title  string
	Rows   []StripRow
	Window *StripWindow
}

// StripRow is one bar.
type StripRow struct {
	Label            string
	From, To         float64 // Hz; 0: from below the axis; +Inf: beyond it
	Fill             Fill
	Colour           int
	FromText, ToText string // empty: the frequency; "-": nothing
	Note             Text
	Missing          string // in place of the bar: why there is none
	// Within is between which frequencies the end next to the other bar lies, Hz; zero: it is sure.
	Within [2]float64
	// Was is from where to where the bar reached in an earlier state, Hz, as From and To; zero: there is none.
	Was [2]float64
}

// Fill is how a bar is filled, in order of emphasis.
type Fill uint8

// The fills.
const (
	SolidFill Fill = iota
	HatchedFill
	LightFill
)

// StripWindow is the band between the end of one bar and the start of another.
type StripWindow struct {
	Low, High float64
	Label     Text
	Overlap   bool
}

// Ranking shows what each input does to a result, by itself.
type Ranking struct {
	Shown
	Caption
	Value Axis
	Base  float64
	Bars  []Bar
}

// Bar is one input of a ranking.
type Bar struct {
	Label             Text
	AtLow, AtHigh     float64
	LowText, HighText Text
}

// Scatter shows designs as points over two results.
type Scatter struct {
	Shown
	Caption
	X, Y   Axis
	Points []Point
}

// Point is one design of a Scatter.
type Point struct {
	X, Y    float64
	Label   Text
	Front   bool
	Present bool
}

// Oblique is a body in space with a quantity on its surface, seen from the front, its left side
// and above.
type Oblique struct {
	Shown
	Caption
	Corners   [][3]float64 // x forward, y to the left, z up, m
	Triangles [][3]int32
	Values    []float64 // at the corners, SI
	Edges     [][][3]float64
	Value     Axis
	Levels    []float64 // between colours, in the unit of Value
}

// CaptionOf returns the words around a part that can be drawn; the zero Caption for
// one that cannot.
func CaptionOf(p Part) Caption {
	switch x := p.(type) {
	case Series:
		return x.Caption
	case Grid:
		if x.Look != nil {
			return x.Look.Caption
		}
	case Shape:
		return x.Caption
	case Strip:
		return x.Caption
	case Ranking:
		return x.Caption
	case Scatter:
		return x.Caption
	case Oblique:
		return x.Caption
	}
	return Caption{}
}
