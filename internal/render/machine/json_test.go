package machine

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestObjectKeepsItsOrder(t *testing.T) {
	o := &Object{}
	o.Set("z", 1).Set("a", "x<y").Set("m", []int{})
	o.Path("deep.b.c", 1)
	o.Path("deep.a", nil)
	o.Path("deep.b.a", 2)
	o.Set("a", "again") // replaces in its place
	got, err := json.Marshal(o)
	want := `{"z":1,"a":"again","m":[],"deep":{"b":{"c":1,"a":2},"a":null}}`
	if err != nil || string(got) != want {
		t.Errorf("got  %s, %v\nwant %s", got, err, want)
	}
}

func TestEmptyObject(t *testing.T) {
	if got, err := json.Marshal(&Object{}); err != nil || string(got) != "{}" {
		t.Errorf("got %s, %v", got, err)
	}
}

func TestObjectPassesErrorsOn(t *testing.T) {
	if _, err := json.Marshal((&Object{}).Set("x", make(chan int))); err == nil {
		t.Error("a channel went into JSON")
	}
}

// JSON has no NaN and no infinities: they are null.
func TestNumberIsNullOrExact(t *testing.T) {
	got, err := json.Marshal([]Number{1.5, Number(math.NaN()), Number(math.Inf(1)), Number(math.Inf(-1)), -0.25})
	if err != nil || string(got) != "[1.5,null,null,null,-0.25]" {
		t.Errorf("got %s, %v", got, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		for _, text := range [][]byte{AppendNumber(nil, x), must(json.Marshal(Number(x)))} {
			var back float64
			if err := json.Unmarshal(text, &back); err != nil || back != x {
				t.Fatalf("%v became %s and then %v, %v", x, text, back, err)
			}
		}
	})
}

func must(b []byte, err error) []byte {
	if err != nil {
		panic(err)
	}
	return b
}

func TestWrite(t *testing.T) {
	var b strings.Builder
	o := &Object{}
	if err := Write(&b, o.Set("b", 1).Set("a", nil)); err != nil {
		t.Fatal(err)
	}
	if want := "{\n  \"b\": 1,\n  \"a\": null\n}\n"; b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
	if err := Write(&b, math.NaN()); err == nil {
		t.Error("a bare NaN was written")
	}
}
