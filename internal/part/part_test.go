package part

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The ranges of all parts cover everything once, and are of one size to one.
func TestRangesTile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 10_000_000).Draw(t, "n")
		of := rapid.IntRange(1, 200).Draw(t, "of")
		at := 0
		for k := 1; k <= of; k++ {
			lo, hi := Part{k, of}.Range(n)
			if lo != at || hi-lo < n/of || hi-lo > n/of+1 {
				t.Fatalf("part %d of %d of %d: %d to %d after %d", k, of, n, lo, hi, at)
			}
			at = hi
		}
		if at != n {
			t.Fatalf("parts end at %d of %d", at, n)
		}
	})
}

// Each item is dealt to one part. Where an item costs no more than the one before, dealing to
// and fro leaves two parts no farther apart than the first item costs.
func TestDealing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, of := rapid.IntRange(0, 200).Draw(t, "n"), rapid.IntRange(1, 40).Draw(t, "of")
		ratio := rapid.Float64Range(0.7, 1).Draw(t, "ratio")
		items, cost := make([]int, of), make([]float64, of)
		c := 1.0
		for i := range n {
			takers := 0
			for k := range of {
				if (Part{k + 1, of}).Deals(i) {
					takers++
					items[k]++
					cost[k] += c
				}
			}
			if takers != 1 {
				t.Fatalf("item %d goes to %d of %d parts", i, takers, of)
			}
			c *= ratio
		}
		if slices.Max(items)-slices.Min(items) > 1 {
			t.Errorf("parts of %d to %d items", slices.Min(items), slices.Max(items))
		}
		if slices.Max(cost)-slices.Min(cost) > 1+1e-9 {
			t.Errorf("parts cost %g to %g", slices.Min(cost), slices.Max(cost))
		}
	})
}

func TestParse(t *testing.T) {
	if p, err := Parse(" 3/8"); err != nil || p != (Part{3, 8}) {
		t.Errorf("%v, %v", p, err)
	}
	for _, bad := range []string{"", "3", "0/8", "9/8", "-1/8", "3/0", "a/b", "3/8/2", "3/9000000"} {
		if _, err := Parse(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// write makes a part file of some lines and returns its path.
func write(t *testing.T, p Part, run string, lines ...string) string {
	t.Helper()
	var b bytes.Buffer
	w, err := NewWriter(&b, Head{Command: "sweep", Part: p, Format: "csv", Designs: 9, Run: run})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if err := w.Line(l[0], []byte(l[1:])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.End(Foot{Skipped: 2, First: "no room"}); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), fmt.Sprintf("part-%d", p.Number))
	if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestRoundTrip(t *testing.T) {
	long := strings.Repeat("0123456789", 50_000) // longer than any buffer
	want := []string{"Hhead", "R", "R" + long, "Rlast"}
	f, err := Open(t.Context(), write(t, Part{1, 1}, "x", want...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if f.Foot != (Foot{4, 2, "no room"}) || f.Head.Designs != 9 {
		t.Errorf("head %+v, foot %+v", f.Head, f.Foot)
	}
	var got []string
	err = f.Each(func(letter byte, text io.Reader) error {
		all, err := io.ReadAll(text)
		got = append(got, string(letter)+string(all))
		return err
	})
	if err != nil || strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("%d lines, error %v", len(got), err)
	}
}

// A file cut anywhere is refused.
func TestCutFile(t *testing.T) {
	name := write(t, Part{1, 1}, "x", "Hhead", "R1,2", "R3,4")
	whole, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for n := range whole {
		if err := os.WriteFile(name, whole[:n], 0o666); err != nil {
			t.Fatal(err)
		}
		if f, err := Open(t.Context(), name); err == nil {
			f.Close()
			t.Fatalf("the first %d of %d bytes are taken for a part", n, len(whole))
		}
	}
}

func TestSort(t *testing.T) {
	open := func(p Part, run string) *File {
		f, err := Open(t.Context(), write(t, p, run, "Hx"))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	one, two, three := open(Part{1, 3}, "a"), open(Part{2, 3}, "a"), open(Part{3, 3}, "a")
	files := []*File{three, one, two}
	if err := Sort(files); err != nil || files[0] != one || files[2] != three {
		t.Errorf("order %v, error %v", files, err)
	}
	for want, files := range map[string][]*File{
		"2 of 3 parts are given: part 2 is missing": {one, three},
		"are both part 1/3":                         {one, open(Part{1, 3}, "a"), two},
		"are parts of different runs":               {one, two, open(Part{3, 3}, "b")},
	} {
		if err := Sort(files); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}
