package generated

import (
	"math"
	"strings"
	"testing"

	"gapline/internal/schema"
)

func TestOneNumberIsOneFile(t *testing.T) {
	for seed := range uint64(50) {
		a, b := New(seed), New(seed)
		if a.Text != b.Text || a.Kind != b.Kind || a.Fault != b.Fault {
			t.Errorf("seed %d gives two files", seed)
		}
	}
}

// owing are keys that owe others so much that they do not come to all of their range, or
// seldom.
var owing = map[string]string{
	"cabinet.pitch":       "it follows from the height in most designs",
	"line.top_height":     "the line has to hang clear of the floor",
	"insert.spacing":      "the mouths have to stand in the pitch",
	"woofer.qts":          "it is smaller than either of the two that make it",
	"mid.qts":             "it is smaller than either of the two that make it",
	"insert.mouth_height": "the mouths have to stand in the pitch",
}

// Valid designs use every key, and every number from the lowest tenth of its range to the
// highest: over the logarithm where the range is of one sign and wide.
func TestTheWholeRangeIsDrawn(t *testing.T) {
	type ends struct{ least, most float64 }
	seen := map[string]ends{}
	for seed := range uint64(4000) {
		c := New(seed)
		if c.Kind != Valid {
			continue
		}
		for i := range schema.Keys {
			k := &schema.Keys[i]
			v := k.ValueIn(&c.Design)
			values := v.List
			switch {
			case k.Numeric() && !math.IsNaN(v.Number):
				values = []float64{v.Number}
			case v.Text != "":
				values = []float64{0}
			}
			for _, x := range values {
				e, ok := seen[k.Path]
				if !ok {
					e = ends{x, x}
				}
				seen[k.Path] = ends{math.Min(e.least, x), math.Max(e.most, x)}
			}
		}
	}
	for i := range schema.Keys {
		k := &schema.Keys[i]
		e, ok := seen[k.Path]
		if !ok {
			t.Errorf("%s is never drawn", k.Path)
			continue
		}
		if k.Numeric() && owing[k.Path] == "" {
			if low, high := tenth(k, e.least), tenth(k, e.most); low > 0.1 || high < 0.9 {
				t.Errorf("%s is drawn from %.3g to %.3g, and its range is %.3g to %.3g", k.Path, e.least, e.most, k.Min, k.Max)
			}
		}
	}
}

// tenth is where in the range of a key a value lies, from 0 to 1.
func tenth(k *schema.Key, x float64) float64 {
	low, high := k.Min, k.Max
	if low >= 0 {
		low = math.Max(low, high*1e-5)
		return math.Log(math.Max(x, low)/low) / math.Log(high/low)
	}
	return (x - low) / (high - low)
}

// A fault stands in the line that it names.
func TestFaultsStandWhereTheySay(t *testing.T) {
	faults := map[string]int{}
	for seed := range uint64(2000) {
		c := New(seed)
		if c.Kind != Nearly {
			continue
		}
		faults[c.Fault.What]++
		lines := strings.Split(c.Text, "\n")
		leaf := c.Fault.Key[strings.LastIndexByte(c.Fault.Key, '.')+1:]
		if c.Fault.Line < 1 || c.Fault.Line > len(lines) || !strings.HasPrefix(lines[c.Fault.Line-1], leaf+" = ") {
			t.Errorf("seed %d: %+v", seed, c.Fault)
		}
	}
	if len(faults) != 8 {
		t.Errorf("faults %v, want 8 sorts", faults)
	}
}
