// Package trace lays measured responses over what gapline predicts for a
// design: a common grid, one smoothing for all, levels aligned in a band,
// differences, their statistics per octave, and where the two traces of a pair
// part. It prints and draws nothing.
package trace

import (
	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/measured"
)

// The predictions that traces can be laid over.
const (
	Auto = "auto" // Box where the design gives enough for it, else None
	Box  = "box"  // low-frequency response of one box, with its insert when it has one
	Bare = "bare" // the same without the insert
	None = "none" // nothing: differences are against the first trace
)

// Choices lists the predictions by the words that name them.
var Choices = []string{Auto, Box, Bare, None}

// PistonLimit is k·a of the cone up to which it is shown as a rigid piston; cones
// break up above (common practice, no source).
const PistonLimit = 2

// Prediction is the predicted response of one box at 1 m in half space: the lumped
// circuit with the exact radiation of cones and mouths.
type Prediction struct {
	Key      string // one of Choices
	Insert   bool   // with the insert in front of the cones
	Volts    float64
	Trust    figure.Trust
	Limit    float64    // highest frequency at which it is shown, at PistonLimit, Hz
	Passband [2]float64 // the band in which levels are aligned unless another is asked for, Hz
	Level    []float64  // on the grid of the Overlay, smoothed like the traces, dB re 20 µPa; NaN beyond Limit
	trace    measured.Trace
}

// Input is a measured trace and its name.
type Input struct {
	Name  string
	Trace measured.Trace
}

// PairInput is two traces that differ in one thing.
type PairInput struct {
	With, Without Input
	Of            PairOf
}

// PairOf is what the two traces of a pair are of.
type PairOf uint8

// The pairs.
const (
	// OfBox is one box with and without its insert, where parting is a change of level.
	OfBox PairOf = iota
	// OfStacks is two stacks from one place, where parting is the end of coupling of the one whose
	// mouths stand farther apart.
	OfStacks
	// OfEdge is a horn, first on its axis and then half its coverage to the side at the same
	// distance: it holds its pattern from where the second lies 6 dB below the first.
	OfEdge
)

var pairWords = [...]string{OfBox: "box", OfStacks: "stacks", OfEdge: "horn"}

// String is the pair's word in JSON.
func (p PairOf) String() string { return pairWords[p] }

// Options are the choices of a comparison.
type Options struct {
	Against   string  // one of Choices
	Volts     float64 // rms at the terminals of the box, V
	Smoothing measured.Smoothing
	Align     Align
	Wave      sizing.WaveSizing // what stored runs say of the design
	PartLevel float64           // by how much a pair must differ to have parted, dB
}

// Align says in which band levels are made to match.
type Align struct {
	Off       bool
	Low, High float64 // Hz; both 0: the prediction's passband, or no alignment without one
}

// given reports whether the user chose the band.
func (a Align) given() bool { return a.High > 0 }

// Curve is one measured trace on the grid.
type Curve struct {
	Name       string
	Notes      []string
	Level      []float64   // smoothed, as aligned, dB
	Moved      float64     // what the alignment added, dB; NaN where it does not cover the band
	Prediction *Prediction // what it is laid over; nil without one
	Difference []float64   // against the prediction or the reference; nil for the reference itself or without one
	Octaves    []measured.Band
}

// Pair is the difference of two traces, with minus without.
type Pair struct {
	With, Without string
	Of            PairOf
	Difference    []float64 // dB; levels as measured, or aligned in the band the user gave
	Moved         float64   // added to Without for that, dB
	Parting       measured.Parting
	Control       float64         // of a horn: lowest frequency from which it holds its pattern, Hz; NaN: nowhere
	Octaves       []measured.Band // of the difference
	Predicted     []float64       // of one box: difference by the prediction, insert in and out; nil when there is none
	Limits        []Limit         // what of the design the parting can be held against
}

// Limit is a predicted limit beside the measured one.
type Limit struct {
	Figure  *figure.Def
	Trust   figure.Trust
	Value   float64 // Hz
	Octaves float64 // of the measured limit above it; NaN without a measured limit
}

// Overlay is the whole comparison.
type Overlay struct {
	Design     *design.Design
	Sizing     sizing.Sizing
	Options    Options
	Frequency  []float64   // the grid, Hz
	Prediction *Prediction // of the box as designed or as asked for; nil without one
	Bare       *Prediction // beside it the one of bare cones, for traces that a pair names as without insert; nil without such
	Why        string      // why there is no prediction
	Reference  string      // what the differences are against; empty without any
	Band       [2]float64  // of the alignment, Hz; zero without any
	Curves     []Curve
	Pairs      []Pair
}
