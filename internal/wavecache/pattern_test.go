package wavecache

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/outside"
	"gapline/cabinet/pattern"
	"gapline/cabinet/section"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// round is a pattern with numbers that singles hold.
func round(hz []float64) *pattern.Pattern {
	p := &pattern.Pattern{Frequency: hz, Rings: 6, Smooth: true}
	for i := range hz {
		row := make([]complex128, 7*12)
		for j := range row {
			row[j] = complex(1+float64(i), float64(j)/8)
		}
		p.Pressure = append(p.Pressure, row)
	}
	return p
}

func TestPatternRoundTrip(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	of := PatternOf{Geometry: outside.GeometryOf(&d), Driven: outside.ByWoofers, Circuit: "fs 50"}
	get := func(of PatternOf) *Pattern {
		return s.Pattern(t.Context(), of, section.Air(&d), func(err error) { t.Errorf("warned: %v", err) })
	}
	put := func(p *pattern.Pattern, volts float64) {
		t.Helper()
		if err := s.PutPattern(t.Context(), of, section.Air(&d), p, volts); err != nil {
			t.Fatal(err)
		}
	}
	if get(of) != nil {
		t.Fatal("a pattern from nowhere")
	}
	want := round(steps(250, 3, 6))
	put(want, 2.83)
	got := get(of)
	if got == nil || got.Volts != 2.83 || len(got.Run) != 64 || got.Rings != want.Rings {
		t.Fatalf("read back %+v", got)
	}
	for i := range want.Pressure {
		if got.Frequency[i] != want.Frequency[i] {
			t.Errorf("frequency %g, want %g", got.Frequency[i], want.Frequency[i])
		}
		for j := range want.Pressure[i] {
			if got.Pressure[i][j] != want.Pressure[i][j] {
				t.Fatalf("pressure %v, want %v", got.Pressure[i][j], want.Pressure[i][j])
			}
		}
	}
	for name, change := range map[string]func(*PatternOf){
		"driven":  func(o *PatternOf) { o.Driven = outside.ByHorn },
		"boxes":   func(o *PatternOf) { o.Boxes = 3 },
		"bare":    func(o *PatternOf) { o.Bare = true },
		"circuit": func(o *PatternOf) { o.Circuit = "fs 51" },
		"width":   func(o *PatternOf) { o.Geometry.Cabinet.Width = optional.Of(0.6201) },
	} {
		other := of
		change(&other)
		if get(other) != nil {
			t.Errorf("%s changed, and the old pattern is still found", name)
		}
	}
	// A narrower or coarser run does not take its place; a wider or finer one does, without a level too.
	put(round(steps(250, 2, 6)), 1)
	put(round(steps(250, 3, 3)), 1)
	put(round([]float64{250, 2000}), 1)
	if got := get(of); got.Volts != 2.83 || len(got.Frequency) != len(want.Frequency) {
		t.Error("a lesser run took its place")
	}
	put(round(steps(200, 4, 6)), numeric.Absent)
	if got := get(of); got.Frequency[0] != 200 || !math.IsNaN(got.Volts) {
		t.Error("a wider run did not take its place")
	}
}

func TestBrokenPatternsAreIgnored(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	of := PatternOf{Geometry: outside.GeometryOf(&d)}
	if err := s.PutPattern(t.Context(), of, section.Air(&d), round(steps(250, 3, 6)), 2.83); err != nil {
		t.Fatal(err)
	}
	path := s.patternPath(keyOf(of, section.Air(&d)))
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"empty": "", "not JSON": "{", "another version": strings.Replace(string(good), `"version": `, `"version": 9`, 1),
		"another level": strings.Replace(string(good), "2.83", "3.83", 1), "a ring more": strings.Replace(string(good), `"rings": 6`, `"rings": 7`, 1),
		"other numbers": strings.Replace(string(good), `"pressure": "AA`, `"pressure": "AB`, 1),
	} {
		if text == string(good) {
			t.Fatalf("%s: nothing is changed", name)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		warned := 0
		if s.Pattern(t.Context(), of, section.Air(&d), func(error) { warned++ }) != nil || warned != 1 {
			t.Errorf("%s: taken, or %d warnings", name, warned)
		}
	}
}
