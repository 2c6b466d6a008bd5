package formula

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Inputs are what a formula starts from.
type Inputs struct {
	Numbers map[string]float64 // SI, by name; what is missing is not known
	Words   map[string]string
}

// Value is what a line gives; Known is false where it cannot be worked out.
type Value struct {
	Number complex128
	Known  bool
}

// Evaluate works out every line, in order; a remark gives nothing. The last line is the
// result. The error says that a quantity depends on itself.
func Evaluate(lines []Line, in Inputs) ([]Value, error) {
	e := evaluation{in: in, lines: map[string]*Line{}, bound: map[string]complex128{"π": math.Pi, "j": 1i}}
	for i := range lines {
		if lines[i].Name != "" {
			e.lines[lines[i].Name] = &lines[i]
		}
	}
	for i := range lines {
		if lines[i].search != nil {
			e.find(lines[i].search)
		}
	}
	out := make([]Value, len(lines))
	for i := range lines {
		if lines[i].Name != "" {
			out[i].Number, out[i].Known = e.line(&lines[i])
		}
	}
	return out, e.err
}

// Result is what the last line gives that is no remark.
func Result(lines []Line, values []Value) Value {
	for i := len(lines) - 1; i >= 0; i-- {
		if lines[i].Name != "" {
			return values[i]
		}
	}
	return Value{}
}

// evaluation is one run over the lines.
type evaluation struct {
	in    Inputs
	lines map[string]*Line
	bound map[string]complex128 // constants, and what searches found
	depth int
	err   error
}

// deepest is deeper than any formula that does not go in a circle.
const deepest = 200

// line works out a line by the first way that holds.
func (e *evaluation) line(l *Line) (complex128, bool) {
	if e.depth++; e.depth > deepest {
		e.err = fmt.Errorf("%s depends on itself", l.Name)
		return 0, false
	}
	defer func() { e.depth-- }()
	for i := range l.ways {
		if x, ok := e.way(&l.ways[i]); ok {
			return x, true
		}
	}
	return 0, false
}

func (e *evaluation) way(w *way) (complex128, bool) {
	if w.given != "" {
		if _, ok := e.quantity(w.given); !ok {
			return 0, false
		}
	}
	if w.is != "" && (e.in.Words[w.is] == w.word) == w.not {
		return 0, false
	}
	return w.value.value(e)
}

// quantity is a constant, what a search found, an input, or what another line gives.
func (e *evaluation) quantity(name string) (complex128, bool) {
	if x, ok := e.bound[name]; ok {
		return x, true
	}
	if x, ok := e.in.Numbers[name]; ok {
		return complex(x, 0), true
	}
	if l := e.lines[name]; l != nil && e.err == nil {
		return e.line(l)
	}
	return 0, false
}

// The ranges of searches: whole numbers up to 64, and all that can be heard in steps of a
// 96th of an octave.
const (
	mostWhole     = 64
	lowest, above = 1.0, 40e3
	perOctave     = 96
)

// find binds the variable of a search; it stays unbound where there is no such value.
func (e *evaluation) find(s *search) {
	if s.least {
		for m := 1.0; m <= mostWhole; m++ {
			if d, ok := e.excess(s, m); ok && d > 0 {
				return
			}
		}
		delete(e.bound, s.of)
		return
	}
	step := math.Exp2(1.0 / perOctave)
	high, ok := e.excess(s, above)
	for f := above; ok && f > lowest; f /= step {
		low, ok := e.excess(s, f/step)
		if !ok {
			break
		}
		if (low > 0) != (high > 0) {
			e.bisect(s, f/step, f)
			return
		}
		high = low
	}
	delete(e.bound, s.of)
}

// bisect closes in on where the two sides of a search are equal.
func (e *evaluation) bisect(s *search, low, high float64) {
	at, _ := e.excess(s, low)
	for range 100 {
		mid := math.Sqrt(low * high)
		if d, _ := e.excess(s, mid); (d > 0) == (at > 0) {
			low = mid
		} else {
			high = mid
		}
	}
}

// excess is by how much the left side of a search exceeds the right at a value of its
// variable, which stays bound.
func (e *evaluation) excess(s *search, x float64) (float64, bool) {
	e.bound[s.of] = complex(x, 0)
	left, ok := s.left.value(e)
	right, known := s.right.value(e)
	return real(left) - real(right), ok && known
}

// node is a part of an expression; ok is false where it cannot be worked out.
type node interface {
	value(*evaluation) (x complex128, ok bool)
}

type number float64

func (n number) value(*evaluation) (complex128, bool) { return complex(float64(n), 0), true }

type quantity string

func (q quantity) value(e *evaluation) (complex128, bool) { return e.quantity(string(q)) }

type binary struct {
	sign        rune
	left, right node
}

func (b binary) value(e *evaluation) (complex128, bool) {
	x, ok := b.left.value(e)
	if !ok {
		return 0, false
	}
	y, ok := b.right.value(e)
	switch b.sign {
	case '+':
		return x + y, ok
	case '-':
		return x - y, ok
	case '*':
		return x * y, ok
	case '/':
		return x / y, ok
	}
	return power(x, y), ok
}

// power keeps whole powers of real numbers real.
func power(x, y complex128) complex128 {
	if imag(x) == 0 && imag(y) == 0 && (real(x) >= 0 || real(y) == math.Trunc(real(y))) {
		return complex(math.Pow(real(x), real(y)), 0)
	}
	return cmplx.Pow(x, y)
}

type call struct {
	of   string
	args []node
}

func (c call) value(e *evaluation) (complex128, bool) {
	var known []complex128
	for _, a := range c.args {
		x, ok := a.value(e)
		switch {
		case ok:
			known = append(known, x)
		case c.of != "max" && c.of != "min":
			return 0, false
		}
	}
	if len(known) == 0 {
		return 0, false
	}
	return functions[c.of](known), true
}

// functions are those of one argument, and the greatest and least of several.
var functions = makeFunctions()

func makeFunctions() map[string]func([]complex128) complex128 {
	functions := map[string]func([]complex128) complex128{
		"√":   func(x []complex128) complex128 { return cmplx.Sqrt(x[0]) },
		"abs": func(x []complex128) complex128 { return complex(cmplx.Abs(x[0]), 0) },
		"max": func(x []complex128) complex128 { return pick(x, math.Max) },
		"min": func(x []complex128) complex128 { return pick(x, math.Min) },
	}
	for name, f := range map[string]func(float64) float64{
		"exp": math.Exp, "ln": math.Log, "log2": math.Log2, "log10": math.Log10, "sin": math.Sin, "cos": math.Cos, "tan": math.Tan,
		"atan": math.Atan, "asinh": math.Asinh, "J₁": math.J1,
	} {
		functions[name] = func(x []complex128) complex128 { return complex(f(real(x[0])), 0) }
	}
	return functions
}

func pick(x []complex128, of func(a, b float64) float64) complex128 {
	out := real(x[0])
	for _, y := range x[1:] {
		out = of(out, real(y))
	}
	return complex(out, 0)
}
