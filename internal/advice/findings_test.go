package advice

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/box"
	"gapline/internal/study/fit"
	"gapline/internal/study/fold"
	"gapline/internal/study/horn"
	"gapline/internal/study/line"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// study is one study's findings of a design.
type study struct {
	name     string
	findings []result.Finding
}

// studies are those whose findings testdata/findings.txt holds.
func studies(t *testing.T, file *designfile.File) []study {
	t.Helper()
	d, ctx, all := &file.Design, context.Background(), math.Inf(1)
	s := sizing.Size(d)
	out := []study{{"size", Findings(d, &s, fit.Of(d, file.Links))}}
	add := func(name string, find func() ([]result.Finding, error)) {
		list, err := find()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out = append(out, study{name, list})
	}
	add("horn", func() ([]result.Finding, error) {
		st, err := horn.Run(d)
		if err != nil {
			return nil, err
		}
		return HornFindings(st), nil
	})
	if d.HasFold() {
		add("fold", func() ([]result.Finding, error) {
			st, err := fold.Run(d, fold.Options{Rays: 9})
			if err != nil {
				return nil, err
			}
			return FoldFindings(st), nil
		})
	}
	add("box", func() ([]result.Finding, error) {
		st, err := box.Run(ctx, &file.Design, box.Options{PerOctave: 2, Boxes: []int{1, 2}})
		if err != nil {
			return nil, err
		}
		return BoxFindings(st), nil
	})
	add("line", func() ([]result.Finding, error) {
		st, problems := line.New(d, line.Conditions{})
		if problems != nil {
			return nil, line.Problems(problems)
		}
		r, err := st.Hear(ctx, line.Request{Views: []line.View{line.DistanceView, line.AudienceView}, PolarDistance: all,
			Few: line.Spectrum{Hz: []float64{1000}}, From: line.NearestMetre, To: line.FarthestMetre, PerDoubling: line.PerDoubling})
		if err != nil {
			return nil, err
		}
		return LineFindings(r), nil
	})
	add("crossover", func() ([]result.Finding, error) {
		a := numeric.Absent
		c, st, err := line.Crossovers(ctx, d, line.Conditions{}, line.CrossoverRequest{Vertical: a, Horizontal: a, Distance: all, From: a, To: a, WithoutBest: true})
		if err != nil {
			return nil, err
		}
		return CrossoverFindings(c, st), nil
	})
	return out
}

var update = flag.Bool("update", false, "write the findings anew")

// One list of findings reads in either unit system as it did when each text was set
// in its own.
func TestFindingsReadAsBefore(t *testing.T) {
	data, err := os.ReadFile("testdata/findings.txt")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		if f := strings.SplitN(line, "\t", 4); len(f) == 4 {
			name := strings.Join(f[:3], " ")
			want[name] = append(want[name], f[3])
		}
	}
	var now strings.Builder
	for _, starter := range designfile.Starters {
		file, err := designfile.LoadStarter(starter.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range studies(t, file) {
			for sys, units := range []string{"metric", "inch"} {
				name := starter.Name + " " + st.name + " " + units
				var got []string
				for _, f := range st.findings {
					got = append(got, f.Severity.String()+"\t"+f.Key+"\t"+terminal.Text(f.Text, quantity.System(sys)))
				}
				for _, line := range got {
					fmt.Fprintf(&now, "%s\t%s\t%s\t%s\n", starter.Name, st.name, units, line)
				}
				if diff := cmp.Diff(want[name], got); diff != "" && !*update {
					t.Errorf("%s (-want +got):\n%s", name, diff)
				}
				delete(want, name)
			}
		}
	}
	if *update {
		if err := os.WriteFile("testdata/findings.txt", []byte(now.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name := range want {
		t.Errorf("%s is not there", name)
	}
}

// Whatever a design gives or leaves out, its findings are whole: every verb of a form
// has its value, and every text is about something.
func TestFindingsOfAnyDesignAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		file, err := designfile.LoadStarter(rapid.SampledFrom(designfile.Starters).Draw(t, "starter").Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		d := file.Design
		for i := range schema.Keys {
			k := &schema.Keys[i]
			if k.Type != schema.Quantity {
				continue
			}
			switch x := k.Number(&d); rapid.IntRange(0, 9).Draw(t, k.Path) {
			case 0:
				k.SetNumber(&d, numeric.Absent)
			case 1:
				if numeric.Given(x) {
					k.SetNumber(&d, math.Min(math.Max(x*rapid.Float64Range(0.5, 2).Draw(t, "factor"), k.Min), k.Max))
				}
			}
		}
		s := sizing.Size(&d)
		for _, f := range Findings(&d, &s, fit.Of(&d, nil)) {
			for _, sys := range []quantity.System{quantity.Metric, quantity.Inch} {
				if text := terminal.Text(f.Text, sys); f.Key == "" || text == "" || strings.Contains(text, "%!") || strings.Contains(text, "{") {
					t.Fatalf("finding about %q: %q", f.Key, text)
				}
			}
		}
	})
}
