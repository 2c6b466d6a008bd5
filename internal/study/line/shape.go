package line

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/quantity"
)

// Shape is a named curve of the whole stack.
type Shape struct {
	Name  string  // one of ShapeNames
	Total float64 // from the first to the last box, rad
}

// ShapeNames lists the shapes: all joints alike, each joint turning more than the
// one above, none turning.
var ShapeNames = []string{"straight", "arc", "progressive"}

// mostTurn bounds a shape, rad.
const mostTurn = math.Pi / 2

// ParseShape reads "straight", "arc:9deg" or "progressive:12deg".
func ParseShape(text string) (*Shape, error) {
	name, angle, given := strings.Cut(text, ":")
	switch {
	case !slices.Contains(ShapeNames, name):
		return nil, fmt.Errorf("%q: straight, arc:ANGLE or progressive:ANGLE is needed, ANGLE from the first to the last box", text)
	case name == "straight" && !given:
		return &Shape{Name: name}, nil
	case !given || name == "straight":
		return nil, fmt.Errorf("%q: straight, or a curve with its angle from the first to the last box, such as arc:9deg, is needed", text)
	}
	total, err := quantity.Parse(angle, quantity.Angle)
	if err != nil {
		return nil, err
	}
	if !(total >= 0 && total < mostTurn) {
		return nil, fmt.Errorf("%q: an angle from 0 to less than 90 deg is needed", text)
	}
	return &Shape{name, total}, nil
}

func (s *Shape) splay(boxes int) []float64 {
	switch s.Name {
	case "arc":
		return field.Arc(boxes, s.Total)
	case "progressive":
		return field.Progressive(boxes, s.Total)
	}
	return field.Arc(boxes, 0)
}
