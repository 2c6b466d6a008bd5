package source

// Assumption is something that the model takes because the design does not say it, or
// because what the design says does not suffice.
type Assumption struct {
	What  Assumed
	Value float64 // what is taken, m or Hz
	High  string  // of WindowMiddle: the upper of the two bands
}

// Assumed is a kind of assumption.
type Assumed uint8

// The assumptions.
const (
	MouthOfBox    Assumed = iota // the horn's mouth is as high as the box, Value
	SideBySide                   // the front is as wide as the mouths beside each other, Value
	WindowMiddle                 // the bands cross over in the middle of the gap's window, Value
	InsertLeftOut                // the insert gives too little for its filter
	NoLevel                      // levels are relative
)

func (b *builder) assume(a Assumption) { b.model.Assumed = append(b.model.Assumed, a) }
