package designfile

import (
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/schema"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// lastDigits is what writing 14 digits may cost.
var lastDigits = cmp.Options{cmpopts.EquateApprox(1e-13, 1e-15), cmpopts.EquateNaNs(),
	cmp.Transformer("number", optional.Float.Value)}

// Every starter, written and read back, is the same design with the same links
// and tolerances.
func TestEncodeStarters(t *testing.T) {
	for _, s := range Starters {
		f, err := LoadStarter(s.Name, []string{"cabinet.pitch=271.23456 mm", `title=A "quoted" name, \ and tab	too`})
		if err != nil {
			t.Fatal(err)
		}
		text := Encode(&f.Project, "written by a test\non two lines")
		g, err := Parse("written", text, nil)
		if err != nil {
			t.Fatalf("%s: %v\n%s", s.Name, err, text)
		}
		if d := cmp.Diff(f.Design, g.Design, lastDigits); d != "" {
			t.Errorf("%s: design (-written +read):\n%s", s.Name, d)
		}
		if d := cmp.Diff(f.Links, g.Links, lastDigits, cmp.Comparer(func(a, b *schema.Key) bool { return a == b })); d != "" {
			t.Errorf("%s: links (-written +read):\n%s", s.Name, d)
		}
		if d := cmp.Diff(f.Tolerances, g.Tolerances, lastDigits, cmp.Comparer(func(a, b *schema.Key) bool { return a == b })); d != "" {
			t.Errorf("%s: tolerances (-written +read):\n%s", s.Name, d)
		}
		if again := Encode(&g.Project, "written by a test\non two lines"); string(again) != string(text) {
			t.Errorf("%s: the second writing differs from the first", s.Name)
		}
	}
}

// Any value that a key accepts is written so that it reads back.
func TestEncodeEveryKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := &schema.Keys[rapid.IntRange(0, len(schema.Keys)-1).Draw(t, "key")]
		d := design.New()
		v := schema.Value{Key: k}
		switch k.Type {
		case schema.Quantity:
			v.Number = rapid.Float64Range(k.Min, k.Max).Draw(t, "x")
		case schema.Count:
			v.Number = float64(rapid.IntRange(int(k.Min), int(k.Max)).Draw(t, "n"))
		case schema.Choice:
			v.Text = rapid.SampledFrom(k.Choices).Draw(t, "word")
		case schema.Text:
			v.Text, _ = k.ParseText(rapid.StringN(1, 40, 200).Draw(t, "text")) // cleaned, as every text of a design is
			if v.Text == "" {
				t.Skip("nothing is left of the text")
			}
		case schema.List:
			v.List = rapid.SliceOfN(rapid.Float64Range(k.Min, k.Max), 1, 5).Draw(t, "list")
		}
		v.Apply(&d)
		text := encoded(k, &d)
		var doc map[string]any
		if _, err := toml.Decode("x = "+text, &doc); err != nil {
			t.Fatalf("%s = %s: %v", k.Path, text, err)
		}
		got, err := fromTOML(k, doc["x"])
		if err != nil {
			// A value on the very end of a range may round past it.
			if k.Type == schema.Quantity && math.Min(v.Number-k.Min, k.Max-v.Number) < 1e-12*(k.Max-k.Min) {
				return
			}
			t.Fatalf("%s = %s: %v", k.Path, text, err)
		}
		if d := cmp.Diff(v, got, lastDigits, cmp.Comparer(func(a, b *schema.Key) bool { return a == b })); d != "" {
			t.Fatalf("%s = %s (-written +read):\n%s", k.Path, text, d)
		}
	})
}
