package result

import (
	"gapline/internal/figure"
	"gapline/internal/quantity"
)

// Caption is the words around a picture. Design and air are the renderer's to add.
type Caption struct {
	View     string // the name by which the picture is asked for
	Title    string
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

// Series is curves in panels, one below the other over a shared axis; with Polar,
// curves of level over angle on a polar chart.
type Series struct {
	Shown
	Caption
	X      Axis
	Panels []Panel
	Polar  bool
}

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
