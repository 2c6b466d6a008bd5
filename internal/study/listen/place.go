package listen

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/check"
	"gapline/internal/study/line"
)

// Seat says where a state is heard.
type Seat struct {
	Name     string     // of SeatNames; empty: Distance or Point
	Distance float64    // along the seats, from the front of the stack, m
	Point    *field.Vec // any place of the world; nil: a seat
}

// SeatNames lists the seats that have names.
var SeatNames = []string{"front", "middle", "back"}

// State is a design as it is heard.
type State struct {
	Words      string // what it is, beside the other
	Design     *design.Design
	Conditions line.Conditions
	Seat       Seat
}

// Place is a state ready to be heard. It keeps its impulse response, so that another
// signal of the same rate costs little, and must not be used by several at once.
type Place struct {
	*line.Study
	Words    string
	Seat     string // in words; empty: a point
	At       field.Vec
	Distance float64 // from the middle of the mouths, m
	engine   *field.Engine

	kept     []float64 // impulse response at keptRate
	keptRate int
}

// Open hangs a state's design and finds the seat. The error is of line.Problems where the
// file is at fault.
func Open(s State) (*Place, error) {
	study, problems := line.New(s.Design, s.Conditions)
	if problems != nil {
		return nil, line.Problems(problems)
	}
	if len(study.Model.Crossing) == 0 {
		return nil, line.Problems{{Keys: []string{"horn.mouth_width", "woofer.size", "line.boxes"},
			Text: "a sound needs the whole band and so a crossover: woofers (woofer.size) and a horn (horn.mouth_width, horn.mouth_height) or mids, with crossover.frequency"}}
	}
	p := &Place{Study: study, Words: s.Words}
	if err := p.sit(s.Seat); err != nil {
		return nil, err
	}
	var err error
	if p.engine, err = study.Fine(); err != nil {
		return nil, err
	}
	p.Distance = p.engine.Distance(p.At)
	return p, nil
}

// sit finds the place of a seat.
func (p *Place) sit(s Seat) error {
	if s.Point != nil {
		p.At = *s.Point
		return nil
	}
	if missing := p.SeatProblems(); missing != nil {
		for i := range missing {
			missing[i].Text += "; or give any place with --point X,Y,Z"
		}
		return line.Problems(missing)
	}
	rows := p.Seating()
	front, back := rows[0], rows[len(rows)-1]
	x := s.Distance
	switch s.Name {
	case "front":
		x = front.Start
	case "back":
		x = back.End
	case "middle":
		x = (front.Start + back.End) / 2
	}
	for _, g := range rows {
		if x >= g.Start && x <= g.End {
			p.At, p.Seat = ears(g, x), s.Name+" seat"
			if s.Name == "" {
				p.Seat = "seat"
			}
			return nil
		}
	}
	if s.Name == "middle" { // it falls between two stretches
		p.At, p.Seat = ears(rows[(len(rows)-1)/2], rows[(len(rows)-1)/2].End), "middle seat"
		return nil
	}
	metres := func(m float64) string { return fmt.Sprintf("%.4g m", m) }
	return line.Problems([]check.Problem{{Keys: []string{"audience.start", "audience.end"},
		Text: fmt.Sprintf("there is no seat at %s: the rows of audience.start and audience.end stand from %s to %s", metres(x), metres(front.Start), metres(back.End))}})
}

// ears are those of the seat at a distance within a stretch.
func ears(g field.Seating, x float64) field.Vec {
	t := 0.0
	if g.End > g.Start {
		t = (x - g.Start) / (g.End - g.Start)
	}
	return field.Vec{X: x, Z: g.StartFloor + t*(g.EndFloor-g.StartFloor) + g.Ear}
}

// level is the level of a mean square of pressure, dB re 20 µPa or relative.
func (p *Place) level(square float64) float64 {
	return p.engine.Level(complex(math.Sqrt(square), 0))
}
