package wave

import (
	"bytes"
	"math"
	"reflect"
	"testing"

	"gapline/cabinet/outside"

	"pgregory.net/rapid"
)

// A point comes back from its line to the last bit, whatever the numbers, and what is not
// there stays so.
func TestPointsAsText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64)
		z := rapid.Custom(func(t *rapid.T) complex128 { return complex(part.Draw(t, "re"), part.Draw(t, "im")) })
		list := rapid.OneOf(rapid.SliceOfN(z, 1, 9), rapid.Just([]complex128(nil)))
		p := outside.Point{
			Frequency: rapid.Float64Range(1, 1e5).Draw(t, "f"), Unknowns: rapid.IntRange(1, 1e6).Draw(t, "unknowns"), Steps: rapid.IntRange(0, 99).Draw(t, "steps"), Seconds: rapid.Float64Range(0, 1e6).Draw(t, "s"),
			Vertical: list.Draw(t, "vertical"), Horizontal: list.Draw(t, "horizontal"), Element: list.Draw(t, "element"),
			Load: rapid.SliceOfN(rapid.SliceOfN(z, 1, 3), 1, 3).Draw(t, "load"), Flow: list.Draw(t, "flow"), Mouths: list.Draw(t, "mouths"),
			Baffled: list.Draw(t, "baffled"), Pressed: z.Draw(t, "pressed"),
			Cones: z.Draw(t, "cones"), Held: z.Draw(t, "held"), Sphere: list.Draw(t, "sphere"),
		}
		text, err := EncodeFrontPoint(&p)
		if err != nil || bytes.ContainsRune(text, '\n') {
			t.Fatalf("%q, %v", text, err)
		}
		if got, err := DecodeFrontPoint(text); err != nil || !reflect.DeepEqual(got, p) {
			t.Errorf("%+v comes back as %+v, %v", p, got, err)
		}
	})
}

func TestForgedPoints(t *testing.T) {
	for _, text := range []string{"", "{", "{}", `{"hz":-1}`, `{"hz":"x"}`, `{"hz":1,"flow":[[1]]`, `{"hz":1,"flow":[["a",1]]}`, `{"hz":1,"cones":[1e999,0]}`} {
		if p, err := DecodeFrontPoint([]byte(text)); err == nil {
			t.Errorf("%s is taken for %+v", text, p)
		}
	}
}
