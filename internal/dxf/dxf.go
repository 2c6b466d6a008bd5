// Package dxf writes flat drawings as ASCII DXF, version R2000 (AC1015), which
// every CAD program and cutter's software in use reads. Units are millimetres:
// both $INSUNITS = 4 and $MEASUREMENT = 1 are set, because readers differ in
// which they honour.
//
// A drawing holds polylines (closed or open), lines, circles and text, each on a
// layer named for the part. The same drawing gives the same bytes: handles are
// counted, coordinates rounded to a tenth of a micrometre, and no clock is read.
// An entity equal to one already drawn on its layer is left out, since a cutter
// would cut it twice.
//
// Structure: Autodesk, DXF Reference, release 2000, "General DXF File Structure".
package dxf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gapline/internal/cleantext"
)

// Point is a place in the drawing plane, in mm.
type Point struct {
	X, Y float64
}

// Colours of layers, by the AutoCAD colour index.
const (
	Red     = 1
	Yellow  = 2
	Green   = 3
	Cyan    = 4
	Blue    = 5
	Magenta = 6
	Black   = 7 // drawn in white on a dark ground
)

// Drawing is a sheet of entities. The zero value is empty and ready for use.
type Drawing struct {
	layers   []layer
	entities []entity
	seen     map[string]bool
	err      error
	low      Point // extents, once placed
	high     Point
	placed   bool
}

type layer struct {
	name  string
	color int
}

// entity is one figure; tags are the groups after those common to all.
type entity struct {
	kind, layer, class string
	tags               []tag
}

type tag struct {
	code  int
	value string
}

// AddLayer names a layer and its colour index, 1 to 255. Layers used without it
// are black. Layer "0" is always there, black, and cannot be added.
func (d *Drawing) AddLayer(name string, color int) {
	for i := range d.layers {
		if d.layers[i].name == name {
			d.layers[i].color = color
			return
		}
	}
	if name == "" || name == "0" || strings.ContainsAny(name, "<>/\\\":;?*|=`,\r\n") {
		d.fail(fmt.Errorf("layer name %q: it must not be empty or 0 nor contain <>/\\\":;?*|=`, or line ends", name))
	}
	if color < 1 || color > 255 {
		d.fail(fmt.Errorf("layer %q: colour index %d, must be 1 to 255", name, color))
	}
	d.layers = append(d.layers, layer{name, color})
}

func (d *Drawing) fail(err error) {
	if d.err == nil {
		d.err = err
	}
}

// use makes sure that a layer exists.
func (d *Drawing) use(name string) {
	if name == "0" {
		return // every file has it
	}
	for _, l := range d.layers {
		if l.name == name {
			return
		}
	}
	d.AddLayer(name, Black)
}

// add appends an entity unless key says that its like is drawn already.
func (d *Drawing) add(key string, e entity) {
	d.use(e.layer)
	key = e.kind + "\x00" + e.layer + "\x00" + key
	if d.seen[key] {
		return
	}
	if d.seen == nil {
		d.seen = map[string]bool{}
	}
	d.seen[key] = true
	d.entities = append(d.entities, e)
}

// reach widens the drawing's extents.
func (d *Drawing) reach(p Point) {
	if math.IsNaN(p.X-p.X) || math.IsNaN(p.Y-p.Y) {
		d.fail(fmt.Errorf("point (%g, %g) is not finite", p.X, p.Y))
	}
	if !d.placed {
		d.low, d.high, d.placed = p, p, true
	}
	d.low = Point{math.Min(d.low.X, p.X), math.Min(d.low.Y, p.Y)}
	d.high = Point{math.Max(d.high.X, p.X), math.Max(d.high.Y, p.Y)}
}

// number prints a coordinate to 1e-4 mm without a negative zero.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 4, 64)
	if s == "-0.0000" {
		s = s[1:]
	}
	return s
}

func at(codeX int, p Point) []tag {
	return []tag{{codeX, number(p.X)}, {codeX + 10, number(p.Y)}}
}

// Polyline draws a polyline through the points in mm; a closed one joins the last
// to the first. Repeated neighbours are dropped. Fewer than two different points
// (three when closed) are an error, reported by Write.
func (d *Drawing) Polyline(layer string, points []Point, closed bool) {
	kept := distinct(points, closed)
	least, flag := 2, "0"
	if closed {
		least, flag = 3, "1"
	}
	if len(kept) < least {
		d.fail(fmt.Errorf("polyline on layer %q has %d different points; %d are needed", layer, len(kept), least))
		return
	}
	tags := []tag{{90, strconv.Itoa(len(kept))}, {70, flag}}
	var key strings.Builder
	for _, p := range kept {
		d.reach(p)
		tags = append(tags, at(10, p)...)
		key.WriteString(number(p.X) + " " + number(p.Y) + " ")
	}
	d.add(key.String()+flag, entity{"LWPOLYLINE", layer, "AcDbPolyline", tags})
}

// distinct drops points that print like their neighbour.
func distinct(points []Point, closed bool) []Point {
	same := func(p, q Point) bool { return number(p.X) == number(q.X) && number(p.Y) == number(q.Y) }
	var kept []Point
	for _, p := range points {
		if len(kept) == 0 || !same(kept[len(kept)-1], p) {
			kept = append(kept, p)
		}
	}
	for closed && len(kept) > 1 && same(kept[0], kept[len(kept)-1]) {
		kept = kept[:len(kept)-1]
	}
	return kept
}

// Line draws a straight line from p to q in mm. One without length is left out;
// so is one that was drawn before, in either direction.
func (d *Drawing) Line(layer string, p, q Point) {
	if len(distinct([]Point{p, q}, false)) < 2 {
		return
	}
	d.reach(p)
	d.reach(q)
	a, b := number(p.X)+" "+number(p.Y), number(q.X)+" "+number(q.Y)
	if b < a {
		a, b = b, a
	}
	tags := append(append(at(10, p), tag{30, "0.0"}), append(at(11, q), tag{31, "0.0"})...)
	d.add(a+" "+b, entity{"LINE", layer, "AcDbLine", tags})
}

// Circle draws a circle of the radius in mm, which must be more than 0.
func (d *Drawing) Circle(layer string, center Point, radius float64) {
	if !(radius > 0) || math.IsInf(radius, 0) {
		d.fail(fmt.Errorf("circle on layer %q has radius %g; it must be more than 0", layer, radius))
		return
	}
	d.reach(Point{center.X - radius, center.Y - radius})
	d.reach(Point{center.X + radius, center.Y + radius})
	tags := append(at(10, center), tag{30, "0.0"}, tag{40, number(radius)})
	d.add(number(center.X)+" "+number(center.Y)+" "+number(radius), entity{"CIRCLE", layer, "AcDbCircle", tags})
}

// Text writes one line of text of the given height in mm with its lower left
// corner at p. Characters outside ASCII are written as \U+XXXX, as the format
// asks.
func (d *Drawing) Text(layer string, p Point, height float64, text string) {
	if !(height > 0) || math.IsInf(height, 0) || strings.ContainsAny(text, "\r\n") {
		d.fail(fmt.Errorf("text %q on layer %q: the height must be more than 0 and the text one line", text, layer))
		return
	}
	d.reach(p)
	var s strings.Builder
	for _, r := range cleantext.Line(text) {
		if r < 0x7f {
			s.WriteRune(r)
		} else {
			fmt.Fprintf(&s, "\\U+%04X", r)
		}
	}
	tags := append(at(10, p), tag{30, "0.0"}, tag{40, number(height)}, tag{1, s.String()}, tag{100, "AcDbText"})
	d.add(number(p.X)+" "+number(p.Y)+" "+s.String(), entity{"TEXT", layer, "AcDbText", tags})
}

// Write writes the drawing. It fails on the first faulty call made before.
func (d *Drawing) Write(w io.Writer) error {
	if d.err != nil {
		return fmt.Errorf("dxf: %w", d.err)
	}
	b := bufio.NewWriter(w)
	f := &file{w: b, next: firstFree}
	f.document(d)
	return b.Flush()
}
