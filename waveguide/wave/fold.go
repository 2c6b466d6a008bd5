package wave

import (
	"errors"
	"fmt"
	"math"

	"gapline/internal/bem"
)

// Fold is a guide of two layers. Sound leaves the throat in the first layer,
// meets the wall curve, turns round its edge into the second layer and leaves at
// the mouth. Points have X forward and Y up, m. The first layer is bounded by
// straight sides from the throat to the ends of the wall, the second by straight
// sides from there to the mouth.
type Fold struct {
	Throat       bem.Point    // centre of the throat
	ThroatRadius float64      // the source is an arc of this radius round it, m
	Wall         []bem.Point  // from the lower end to the upper
	Mouth        [2]bem.Point // lower and upper end
	Thickness    float64      // of either layer, m; used by the exit Slot
	Exit         Exit
	Drive        complex128 // normal velocity on the throat arc, m/s
}

// Exit is the condition at the mouth.
type Exit int

const (
	// Matched ends the guide in ρc: nothing is thrown back at right angles.
	Matched Exit = iota
	// Slot ends it in the local impedance of a long slot in a wide wall.
	Slot
)

// Names of the parts of the guide's outlines and of its layers.
const (
	First  = "first layer"
	Second = "second layer"
	Side   = "side"
	Mouth  = "mouth"
	Seam   = "seam"
)

// Problem returns the guide as two domains joined along the wall.
func (g Fold) Problem(a Air) (*bem.Problem, error) {
	if err := g.check(); err != nil {
		return nil, err
	}
	wall, err := through(Seam, g.Wall)
	if err != nil {
		return nil, err
	}
	for i := range wall {
		wall[i].Join = fmt.Sprintf("%s %d", Seam, i+1)
	}
	low, high := g.Wall[0], g.Wall[len(g.Wall)-1]
	arc := g.arc()
	top, _ := arc.At(0)
	bottom, _ := arc.At(1)
	first := append(append([]bem.Edge{}, wall...), line(Side, high, top),
		bem.Edge{Name: Throat, Curve: arc, Wall: bem.Uniform(g.Drive)}, line(Side, bottom, low))
	exit := line(Mouth, g.Mouth[0], g.Mouth[1])
	exit.Flip = true // the outline runs down, results run up
	exit.Wall = g.exitWall(a)
	second := append(append([]bem.Edge{}, wall...), line(Side, high, g.Mouth[1]), exit, line(Side, g.Mouth[0], low))
	return &bem.Problem{
		SoundSpeed: a.SoundSpeed, Density: a.Density,
		Domains: []bem.Domain{
			{Name: First, Outlines: [][]bem.Edge{first}},
			{Name: Second, Outlines: [][]bem.Edge{second}},
		},
	}, nil
}

// check reports impossible lengths.
func (g Fold) check() error {
	if len(g.Wall) < 2 {
		return errors.New("wall curve: needs at least two points")
	}
	nearest := math.Inf(1)
	for _, p := range g.Wall {
		nearest = math.Min(nearest, p.Sub(g.Throat).Norm())
	}
	var errs []error
	if !(g.ThroatRadius > 0) || g.ThroatRadius >= nearest {
		errs = append(errs, fmt.Errorf("throat radius %g m must lie between 0 and the distance to the wall, %g m", g.ThroatRadius, nearest))
	}
	if !(g.Mouth[0].Sub(g.Mouth[1]).Norm() > 0) {
		errs = append(errs, errors.New("mouth has no height"))
	}
	if g.Drive == 0 {
		errs = append(errs, errors.New("drive is 0: the throat must move"))
	}
	if g.Exit == Slot && !(g.Thickness > 0) {
		errs = append(errs, fmt.Errorf("layer thickness %g m: a slot exit needs a positive one", g.Thickness))
	}
	return errors.Join(errs...)
}

// arc returns the throat, from the side to the upper end of the wall to the side
// to the lower end.
func (g Fold) arc() bem.Arc {
	angle := func(p bem.Point) float64 {
		d := p.Sub(g.Throat)
		return math.Atan2(d.Y, d.X)
	}
	sweep := 0.0
	for i := 1; i < len(g.Wall); i++ {
		sweep += math.Remainder(angle(g.Wall[i])-angle(g.Wall[i-1]), 2*math.Pi)
	}
	return bem.Arc{Centre: g.Throat, Radius: g.ThroatRadius, Start: angle(g.Wall[0]) + sweep, Sweep: -sweep}
}

func (g Fold) exitWall(a Air) bem.Wall {
	if g.Exit == Matched {
		return bem.Matched()
	}
	return bem.Wall{Admittance: func(f float64) complex128 {
		return 1 / SlotImpedance(2*math.Pi*f/a.SoundSpeed*g.Thickness)
	}}
}
