package schema

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"

	"pgregory.net/rapid"
)

func TestKeyTableIsSound(t *testing.T) {
	seen := map[string]bool{}
	for i := range Keys {
		k := &Keys[i]
		if seen[k.Path] {
			t.Errorf("%s stands twice", k.Path)
		}
		seen[k.Path] = true
		if k.Doc == "" || strings.HasSuffix(k.Doc, ".") {
			t.Errorf("%s: text %q is missing or ends with a full stop", k.Path, k.Doc)
		}
		if strings.ToLower(k.Path) != k.Path || strings.Count(k.Path, ".") > 1 {
			t.Errorf("%s is not a lower-case key of one table", k.Path)
		}
		if k.Numeric() && !(k.Min < k.Max) {
			t.Errorf("%s: range %v to %v is empty", k.Path, k.Min, k.Max)
		}
		if FindKey(k.Path) != k {
			t.Errorf("%s does not find itself", k.Path)
		}
	}
}

// Each key has its own place in a design: setting one changes no other. The
// pitch, which moves the height, is left out.
func TestKeysDoNotShareAPlace(t *testing.T) {
	for i := range Keys {
		k := &Keys[i]
		if !k.Numeric() || k.Path == "cabinet.pitch" {
			continue
		}
		d := design.New()
		empty := design.New()
		k.SetNumber(&d, math.Ceil(k.Min+1e-9))
		for j := range Keys {
			o := &Keys[j]
			if o == k || !o.Numeric() || o.Path == "cabinet.pitch" {
				continue
			}
			if got, want := o.Number(&d), o.Number(&empty); got != want && numeric.Given(got) {
				t.Errorf("setting %s changes %s from %v to %v", k.Path, o.Path, want, got)
			}
		}
	}
}

// A number in range survives the way out as text and back in, through --set and
// through a file, to within a rounding of the last digits.
func TestNumbersSurviveText(t *testing.T) {
	var numeric []*Key
	for i := range Keys {
		if Keys[i].Numeric() {
			numeric = append(numeric, &Keys[i])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(numeric).Draw(t, "key")
		x := rapid.Float64Range(k.Min, k.Max).Draw(t, "value")
		if k.Type == Count {
			x = math.Trunc(x)
		}
		v, err := k.FromText(quantity.Canonical(x, k.Kind))
		if err != nil {
			// At the very ends the rounding of the text may step outside.
			if math.Min(x-k.Min, k.Max-x) > 1e-9*(k.Max-k.Min) {
				t.Fatalf("%s = %q: %v", k.Path, quantity.Canonical(x, k.Kind), err)
			}
			return
		}
		d := design.New()
		v.Apply(&d)
		scale := math.Abs(x) + 1e-9
		if k.Kind == quantity.Temperature {
			scale += 300 // the offset of °C takes digits
		}
		if got := k.Number(&d); math.Abs(got-x) > 1e-11*scale {
			t.Fatalf("%s: %v came back as %v", k.Path, x, got)
		}
	})
}

func TestAcceptsHoldsTheRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := &Keys[rapid.IntRange(0, len(Keys)-1).Draw(t, "key")]
		if !k.Numeric() {
			return
		}
		x := rapid.Float64().Draw(t, "value")
		err := k.Accepts(x)
		inside := x >= k.Min && x <= k.Max && (k.Type != Count || x == math.Trunc(x))
		for _, w := range k.Words {
			inside = inside || x == w
		}
		if (err == nil) != inside {
			t.Fatalf("%s accepts %v: %v", k.Path, x, err)
		}
	})
}

func TestAcceptsRefusesNonNumbers(t *testing.T) {
	for i := range Keys {
		k := &Keys[i]
		if !k.Numeric() {
			continue
		}
		if k.Accepts(math.NaN()) == nil || k.Accepts(math.Inf(-1)) == nil {
			t.Errorf("%s accepts NaN or -Inf", k.Path)
		}
		if len(k.Words) == 0 && k.Accepts(math.Inf(1)) == nil {
			t.Errorf("%s accepts +Inf", k.Path)
		}
	}
}

// The example in the message about a bare number must itself be accepted.
func TestExamplesAreAccepted(t *testing.T) {
	for i := range Keys {
		k := &Keys[i]
		if k.Type != Quantity || k.Kind == quantity.Number {
			continue
		}
		_, err := k.Bare(1)
		text := err.Error()
		example := strings.Trim(text[strings.LastIndex(text, "such as ")+len("such as "):], `"`)
		if _, err := k.FromText(example); err != nil {
			t.Errorf("%s: %q is offered, but %v", k.Path, example, err)
		}
	}
}

func TestNearest(t *testing.T) {
	words := []string{"height", "width", "depth", "gap", "pitch"}
	for _, c := range []struct{ word, want string }{
		{"hieght", "height"}, // neighbours swapped
		{"heigth", "height"},
		{"HEIGHT", "height"},
		{"hight", "height"},
		{"heightt", "height"},
		{"wdith", "width"},
		{"gab", "gap"},
		{"foo", ""},
		{"", ""},
		{"volume", ""},
		{strings.Repeat("x", 5000), ""},
	} {
		if got := Nearest(c.word, words); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.want)
		}
	}
}

// editDistance against the plain recursive definition (restricted
// Damerau-Levenshtein, optimal string alignment).
func TestEditDistanceIsTheRecursion(t *testing.T) {
	var slow func(a, b string) int
	slow = func(a, b string) int {
		if a == "" || b == "" {
			return len(a) + len(b)
		}
		cost := 1
		if a[len(a)-1] == b[len(b)-1] {
			cost = 0
		}
		n := min(slow(a[:len(a)-1], b)+1, slow(a, b[:len(b)-1])+1, slow(a[:len(a)-1], b[:len(b)-1])+cost)
		if len(a) > 1 && len(b) > 1 && a[len(a)-1] == b[len(b)-2] && a[len(a)-2] == b[len(b)-1] {
			n = min(n, slow(a[:len(a)-2], b[:len(b)-2])+1)
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[ab]{0,5}`)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if got, want := editDistance(a, b), slow(a, b); got != want {
			t.Fatalf("editDistance(%q, %q) = %d, want %d", a, b, got, want)
		}
	})
}

// Column heads name the unit in which the factor puts the value.
func TestColumns(t *testing.T) {
	for _, c := range []struct {
		key, head string
		si, want  float64
	}{
		{"cabinet.pitch", "cabinet.pitch_m", 0.25, 0.25},
		{"horn.coverage", "horn.coverage_deg", math.Pi / 2, 90},
		{"horn.lowest", "horn.lowest_hz", 800, 800},
		{"line.boxes", "line.boxes", 7, 7},
		{"air.humidity", "air.humidity", 0.5, 0.5},
		{"air.temperature", "air.temperature_k", 293.15, 293.15},
		{"insert.chamber_volume", "insert.chamber_volume_m3", 4e-4, 4e-4},
	} {
		head, factor := FindKey(c.key).Column()
		if head != c.head || math.Abs(c.si*factor-c.want) > 1e-9 {
			t.Errorf("%s: column %s holds %v, want %s with %v", c.key, head, c.si*factor, c.head, c.want)
		}
	}
	for i := range Keys {
		if k := &Keys[i]; k.Numeric() {
			if head, _ := k.Column(); strings.HasSuffix(head, "_") {
				t.Errorf("%s: column %q has no unit", k.Path, head)
			}
		}
	}
}

func TestText(t *testing.T) {
	d := design.New()
	d.Cabinet.Height, d.Line.Splay, d.Fold.VirtualPath, d.Title = optional.Of(0.254), []float64{0, math.Pi / 180}, optional.Of(math.Inf(1)), "x"
	for key, want := range map[string]string{
		"title": "x", "cabinet.height": "10 in", "line.splay": "0°, 1°", "fold.virtual_path": "flat",
		"line.boxes": "-", "cabinet.width": "-", "enclosure.kind": "-", "cabinet.pitch": "10 in",
	} {
		if got := FindKey(key).Text(&d, quantity.Inch); got != want {
			t.Errorf("%s is shown as %q, want %q", key, got, want)
		}
	}
}

// The ends of a range are within it in every unit that the key takes: what the
// message about it names as right must be taken.
func TestEndsOfARangeAreTaken(t *testing.T) {
	for _, text := range []string{"-40 degC", "60 degC", "-40 degF", "140 degF", "233.15 K", "333.15 K"} {
		v, err := FindKey("air.temperature").FromText(text)
		if err != nil {
			t.Errorf("air.temperature = %s %v", text, err)
		}
		if math.Abs(v.Number-233.15) > 1e-9 && math.Abs(v.Number-333.15) > 1e-9 {
			t.Errorf("air.temperature = %s is read as %v K", text, v.Number)
		}
	}
	for i := range Keys {
		k := &Keys[i]
		if k.Type != Quantity {
			continue
		}
		for _, end := range []float64{k.Min, k.Max} {
			text := quantity.Canonical(end, k.Kind)
			if _, err := k.FromText(text); err != nil {
				t.Errorf("%s = %q %v", k.Path, text, err)
			}
		}
	}
}
