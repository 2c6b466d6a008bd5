package advice

import (
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/designtest"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/schema"

	"pgregory.net/rapid"
)

// applied reads the design back from a file with the settings of a lever, as a user would.
func applied(t testing.TB, p *schema.Project, l *Lever) *designfile.File {
	t.Helper()
	f, err := designfile.Parse("lever.toml", []byte(designfile.Encode(p, "by a test")), l.Set)
	if err != nil {
		t.Fatalf("%s: %v", strings.Join(l.Set, " "), err)
	}
	return f
}

// holds checks that a lever, applied by its settings, leaves exactly the gaps that it
// promises, closes at every level unless it says that it only narrows, and can be built.
func holds(t testing.TB, p *schema.Project, l *Lever, target float64) {
	t.Helper()
	f := applied(t, p, l)
	s := sizing.Size(&f.Design)
	closed, known := 0, 0
	for i, g := range sizing.Levels(&f.Design, &s) {
		promised := l.Gap[i]
		if !numeric.Given(promised) {
			continue
		}
		known++
		if promised <= target {
			closed++
		}
		if math.Abs(g.Gap-promised) > 1e-9 && !(math.IsInf(g.Gap, -1) && math.IsInf(promised, -1)) {
			t.Errorf("%s: gap by %s %g oct, promised %g", strings.Join(l.Set, " "), LevelNames[i], g.Gap, promised)
		}
	}
	if closed == 0 || l.Narrows != (closed < known) {
		t.Errorf("%s: closes %d of %d levels, narrows %v", strings.Join(l.Set, " "), closed, known, l.Narrows)
	}
	if m := layout.New(&f.Design).Misfits(); len(m) > 0 && len(layout.New(&p.Design).Misfits()) == 0 {
		t.Errorf("%s: misfit: %s", strings.Join(l.Set, " "), m[0].Of)
	}
}

// Every lever of the starters, and of 300 random designs, holds what it promises.
func TestLeversHold(t *testing.T) {
	for _, starter := range designfile.Starters {
		for _, set := range [][]string{nil, {"horn.mouth_width=220mm"}, {"horn.lowest=500Hz", "horn.mouth_width=250mm"}, {"targets.coupling=lobe"}} {
			f, err := designfile.LoadStarter(starter.Name, set)
			if err != nil {
				t.Fatal(err)
			}
			s := sizing.Size(&f.Design)
			for _, l := range Levers(&f.Design, f.Links, &s, 0) {
				holds(t, &f.Project, &l, 0)
			}
		}
	}
	n, proposed := 0, 0
	check := func(rt *rapid.T) {
		d := designtest.Random(rt)
		if rapid.Bool().Draw(rt, "without insert") {
			d.Insert = design.New().Insert
		}
		target := math.Round(100*rapid.Float64Range(-0.5, 0.5).Draw(rt, "target")) / 100
		d.Targets.Gap = optional.Of(target)
		p := schema.Project{Design: d}
		s := sizing.Size(&p.Design)
		n++
		for _, l := range Levers(&p.Design, nil, &s, target) {
			proposed++
			holds(t, &p, &l, target)
		}
	}
	for range 3 { // of a hundred each
		rapid.Check(t, check)
	}
	t.Logf("%d levers of %d random designs", proposed, n)
	if proposed == 0 {
		t.Error("no lever was tried")
	}
}

// The bench design with its gap opened in one way after another: each lever must
// turn up where it is the obvious one.
func TestEachLeverTurnsUp(t *testing.T) {
	for key, change := range map[string]func(*design.Design){
		"cabinet.pitch": func(d *design.Design) {
			d.Insert, d.Woofer, d.Horn.MouthHeight = design.New().Insert, design.New().Woofer, optional.Float{}
		},
		"horn.mouth_width": func(d *design.Design) {
			d.Insert, d.Cabinet.Width = design.New().Insert, optional.Float{}
		},
		"horn.coverage":         func(d *design.Design) { d.Insert = design.New().Insert },
		"insert.mouths":         func(d *design.Design) { d.Insert = design.New().Insert },
		"woofer.per_box":        func(d *design.Design) { d.Insert = design.New().Insert },
		"insert.chamber_volume": func(d *design.Design) { d.Insert.ChamberVolume = optional.Of(2e-3) },
		"insert.spacing": func(d *design.Design) {
			d.Insert.Spacing = optional.Of(0.08)
			d.Insert.MouthHeight = optional.Of(0.07)
			d.Insert.ChamberVolume = optional.Of(1e-4)
		},
	} {
		d := designtest.Box()
		change(&d)
		s := sizing.Size(&d)
		if !(s.Gap.AsGiven() > 0) {
			t.Errorf("%s: the gap is not open (%g)", key, s.Gap.AsGiven())
		}
		found := false
		var keys []string
		for _, l := range Levers(&d, nil, &s, 0) {
			found = found || l.Key == key
			keys = append(keys, l.Key)
		}
		if !found {
			t.Errorf("%s is not proposed, but %v", key, keys)
		}
	}
}

// A coverage that closes by rule alone is headed so: 25 400/(W·θ) falls without end, the
// aperture integral does not.
func TestOneLevelOnlyNarrows(t *testing.T) {
	d := designtest.Box()
	d.Insert = design.New().Insert
	s := sizing.Size(&d)
	for _, l := range Levers(&d, nil, &s, 0) {
		if text := l.Text.Form; l.Narrows != strings.HasPrefix(text, "Narrows:") {
			t.Errorf("%s: narrows %v, %q", l.Key, l.Narrows, text)
		}
	}
}
