package generated

import (
	"math/rand/v2"

	"gapline/cabinet/design"
)

// Kind is what is to be expected of a design file.
type Kind int

// The kinds.
const (
	Valid   Kind = 1 + iota // it can be computed, whether or not it can be built
	Misfit                  // it can be computed and cannot be built
	Nearly                  // valid but for one fault
	Hostile                 // nothing is promised of it but that no program may stumble over it
	kindCount
)

// String returns the kind's name.
func (k Kind) String() string {
	return [...]string{"no kind", "valid", "misfit", "nearly valid", "hostile"}[k]
}

// Case is one design file.
type Case struct {
	Seed  uint64
	Kind  Kind
	Text  string
	Files map[string]string // what lies beside it, by name
	Usual bool              // its drivers are such as are built

	// Design is what the file says, of a valid one or a misfit.
	Design design.Design
	// Fault is what is wrong with the file, of one that is nearly valid.
	Fault Fault
}

// Fault is what is wrong with a file and where a message has to point.
type Fault struct {
	Line int    // counted from 1
	Key  string // the key or table
	What string // for the log
}

// New returns the case of a number. Of ten in a row six are valid, one is a misfit, two
// are nearly valid and one is hostile.
func New(seed uint64) Case {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 0x6a09e667)), files: map[string]string{}}
	c := Case{Seed: seed, Kind: kindOf(seed)}
	switch c.Kind {
	case Valid:
		m.valid()
		c.Text, c.Design = m.text(), m.d
	case Misfit:
		m.misfit()
		c.Text, c.Design = m.text(), m.d
	case Nearly:
		m.valid()
		c.Text, c.Fault = m.faulty()
	case Hostile:
		m.valid()
		c.Text = m.hostile()
	}
	c.Files, c.Usual = m.files, m.tame
	return c
}

// kindOf is the kind of a number.
func kindOf(seed uint64) Kind {
	switch seed % 10 {
	case 3:
		return Misfit
	case 5, 8:
		return Nearly
	case 9:
		return Hostile
	}
	return Valid
}

// maker is a design in the making.
type maker struct {
	*rand.Rand
	d     design.Design
	files map[string]string
	tame  bool // draws what is usual, not what is possible
}

// valid draws a design that can be computed: every second from the whole range of its
// keys, the others with the places of a box that may be built and usual drivers.
func (m *maker) valid() {
	if m.tame = m.chance(0.5); m.tame {
		m.laid()
	} else {
		m.anywhere()
	}
	m.bands()
	m.acoustics()
	m.asked()
	m.seats()
	m.words()
	if m.chance(0.1) {
		m.measured()
	}
}
