package schema

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// Value is one setting, ready to be put into a design.
type Value struct {
	Key    *Key
	Number float64 // of a Quantity or Count, SI
	Text   string  // of a Choice or Text
	List   []float64
}

// NumberValue returns the setting of a numeric key to x, SI. It is not checked.
func NumberValue(k *Key, x float64) Value { return Value{Key: k, Number: x} }

// Apply puts the value into d.
func (v Value) Apply(d *design.Design) {
	switch v.Key.Type {
	case Quantity, Count:
		v.Key.SetNumber(d, v.Number)
	case Choice, Text:
		v.Key.text.set(d, v.Text)
	case List:
		*v.Key.list(d) = v.List
	}
}

// Check returns an error when a number is out of the key's range.
func (v Value) Check() error {
	if v.Key.Numeric() {
		return v.Key.Accepts(v.Number)
	}
	return nil
}

// Show returns the value as a person would write it.
func (v Value) Show(sys quantity.System) string {
	switch v.Key.Type {
	case Quantity:
		if w := v.Key.Word(v.Number); w != "" {
			return w
		}
		return quantity.Format(v.Number, v.Key.Kind, sys)
	case Count:
		return strconv.Itoa(int(v.Number))
	}
	return v.Text
}

// Index is the key's place in the table of keys.
func (k *Key) Index() int {
	return slices.IndexFunc(Keys, func(x Key) bool { return x.Path == k.Path })
}

// Word returns the word that stands for a number of the key, such as "flat"; empty
// when there is none.
func (k *Key) Word(x float64) string {
	for _, w := range sortedWords(k.Words) {
		if k.Words[w] == x {
			return w
		}
	}
	return ""
}

// ValueIn returns the key's setting in d; its number is NaN and its text or list empty
// when it is not given.
func (k *Key) ValueIn(d *design.Design) Value {
	v := Value{Key: k}
	switch k.Type {
	case Choice, Text:
		v.Text = k.text.get(d)
	case List:
		v.List = *k.list(d)
	default:
		v.Number = k.Number(d)
	}
	return v
}

// Numeric reports whether the key holds one number, so that it can be varied,
// followed and given a tolerance.
func (k *Key) Numeric() bool { return k.Type == Quantity || k.Type == Count }

// Number returns the key's value in d, SI; NaN when it is not given. The pitch
// is the one in effect, whether given or derived.
func (k *Key) Number(d *design.Design) float64 {
	switch {
	case k.Path == "cabinet.pitch":
		return d.Pitch()
	case k.Type == Count:
		if n := *k.count(d); n != 0 {
			return float64(n)
		}
		return numeric.Absent
	case k.air != nil:
		return *k.air(d)
	}
	return k.float(d).Value()
}

// SetNumber puts a number, SI, into d. Setting a pitch that follows from height
// and gap moves the height.
func (k *Key) SetNumber(d *design.Design, x float64) {
	switch {
	case k.Path == "cabinet.pitch":
		d.SetPitch(x)
	case k.Type == Count:
		*k.count(d) = int(math.Round(x))
	case k.air != nil:
		*k.air(d) = x
	default:
		*k.float(d) = optional.Of(x)
	}
}

// Column returns the key with its SI unit, for the head of a CSV column, and
// the factor from SI to that unit: angles are in degrees.
func (k *Key) Column() (name string, factor float64) {
	switch k.Kind {
	case quantity.Angle:
		return k.Path + "_deg", 1 / degrees
	case quantity.Number, quantity.Fraction:
		return k.Path, 1
	}
	return k.Path + "_" + siSuffix[k.Kind], 1
}

// InColumn returns a number of the key, SI, in the unit of its CSV column.
func (k *Key) InColumn(si float64) float64 {
	if k.Kind == quantity.Angle {
		return quantity.InDegrees(si)
	}
	return si
}

// siSuffix is the SI unit as JSON and CSV keys write it.
var siSuffix = map[quantity.Kind]string{
	quantity.Length: "m", quantity.Area: "m2", quantity.Volume: "m3", quantity.Frequency: "hz", quantity.Time: "s",
	quantity.Temperature: "k", quantity.Pressure: "pa", quantity.Resistance: "ohm", quantity.Inductance: "h",
	quantity.ForceFactor: "tm", quantity.Mass: "kg", quantity.Power: "w", quantity.Level: "db", quantity.Octaves: "oct",
	quantity.Voltage: "v", quantity.Compliance: "m_n", quantity.MechLoss: "kg_s", quantity.Speed: "m_s", quantity.Density: "kg_m3",
}

// Accepts returns an error when the number, SI, is out of the key's range or
// not whole where it must be.
func (k *Key) Accepts(x float64) error {
	for _, w := range k.Words {
		if x == w {
			return nil
		}
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Errorf("is not a finite number")
	}
	if k.Type == Count && x != math.Trunc(x) {
		return fmt.Errorf("is %s: a whole number is needed", quantity.ShortNumber(x))
	}
	switch {
	case x < k.Min-endSlack*math.Abs(k.Min):
		return fmt.Errorf("is %s: %s needed", k.beyond(x, k.Min, "below"), k.rangeText())
	case x > k.Max+endSlack*math.Abs(k.Max):
		return fmt.Errorf("is %s: %s needed", k.beyond(x, k.Max, "above"), k.rangeText())
	}
	return nil
}

// endSlack is by how much, relative to it, a number may miss the end of a range: a
// few roundings of the conversion of a unit. -40 degC is 233.15 K but for one.
const endSlack = 1e-14

// beyond shows a number that lies beyond an end of the range, in no more digits than
// can be read.
func (k *Key) beyond(x, end float64, side string) string {
	v, _ := quantity.Display(x, k.Kind, quantity.Metric)
	shown := quantity.Format(x, k.Kind, quantity.Metric)
	switch {
	case shown == quantity.Format(end, k.Kind, quantity.Metric): // rounded, it would look right
		if six := k.sixDigits(x); six != k.sixDigits(end) {
			return six
		}
		return "a little " + side + " " + k.bound(end)
	case k.Kind == quantity.Number && math.Abs(v) >= 1e7:
		return quantity.ShortNumber(x)
	}
	return shown
}

// sixDigits writes a value of the key in six significant digits.
func (k *Key) sixDigits(x float64) string {
	number, unit, _ := strings.Cut(quantity.Canonical(x, k.Kind), " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return number // it was written from one
	}
	return strings.TrimSpace(quantity.ShortNumber(v) + " " + unit)
}

// rangeText is "between 30 mm and 3 m is".
func (k *Key) rangeText() string {
	return fmt.Sprintf("between %s and %s is", k.bound(k.Min), k.bound(k.Max))
}

func (k *Key) bound(x float64) string {
	if k.Kind == quantity.Length && x >= 1 {
		return strconv.FormatFloat(x, 'g', 4, 64) + " m"
	}
	return quantity.Format(x, k.Kind, quantity.Metric)
}

// Accepted says in words what the key takes, for messages and explain.
func (k *Key) Accepted() string {
	switch k.Type {
	case Text:
		if k.Points {
			return "free text, a line or an entry of a list of texts for each point"
		}
		return "free text"
	case Choice:
		return "one of " + strings.Join(quoted(k.Choices), ", ")
	case Count:
		return fmt.Sprintf("a whole number from %g to %g", k.Min, k.Max)
	case List:
		return fmt.Sprintf("a list of %ss in %s, each between %s and %s", k.Kind, k.Kind.UnitNames(), k.bound(k.Min), k.bound(k.Max))
	}
	s := fmt.Sprintf("%s in %s, between %s and %s", k.Kind.Article(), k.Kind.UnitNames(), k.bound(k.Min), k.bound(k.Max))
	if k.Kind == quantity.Number {
		s = fmt.Sprintf("a number between %g and %g", k.Min, k.Max)
	}
	for _, w := range sortedWords(k.Words) {
		s += fmt.Sprintf(", or %q", w)
	}
	return s
}

func sortedWords(m map[string]float64) []string {
	var out []string
	for w := range m {
		out = append(out, w)
	}
	slices.Sort(out)
	return out
}

func quoted(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = strconv.Quote(w)
	}
	return out
}

// Text returns the key's value in d as a person would write it; "-" when it is
// not given.
func (k *Key) Text(d *design.Design, sys quantity.System) string {
	switch k.Type {
	case Choice, Text:
		if s := k.text.get(d); s != "" {
			return s
		}
		return "-"
	case List:
		var parts []string
		for _, x := range *k.list(d) {
			parts = append(parts, quantity.Format(x, k.Kind, sys))
		}
		if len(parts) == 0 {
			return "-"
		}
		return strings.Join(parts, ", ")
	}
	x := k.Number(d)
	if !numeric.Given(x) {
		return "-"
	}
	return NumberValue(k, x).Show(sys)
}

// Canonical returns a number of the key, SI, as text that the design file and --set read
// back to the same value.
func (k *Key) Canonical(x float64) string {
	if k.Type == Count {
		return strconv.Itoa(int(math.Round(x)))
	}
	if w := k.Word(x); w != "" {
		return w
	}
	return quantity.Canonical(x, k.Kind)
}
