package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/check"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// printed is the last place that a mending value prints: 0.1 mm, 0.1 deg, 0.01 L, 0.1 Hz,
// 0.01 cm².
var printed = map[quantity.Kind]float64{
	quantity.Length: 0.1e-3, quantity.Angle: 0.1 * math.Pi / 180, quantity.Volume: 0.01e-3, quantity.Frequency: 0.1, quantity.Area: 0.01e-4,
}

// set is the design with a setting as the command line gives it, and what follows it.
func set(t *testing.T, d design.Design, links []schema.Link, setting string) design.Design {
	t.Helper()
	path, text, _ := strings.Cut(setting, "=")
	k := schema.FindKey(path)
	if k == nil {
		t.Fatalf("%s: no such key", setting)
	}
	v, err := k.FromText(text)
	if err != nil {
		t.Fatalf("%s: %v", setting, err)
	}
	v.Apply(&d)
	acting := schema.Acting(links, []*schema.Key{k})
	for i := range acting {
		acting[i].Apply(&d)
	}
	return d
}

// names are the misfits of a design in a form that two designs of the same parts share.
func names(d *design.Design) []string {
	l := layout.New(d)
	var out []string
	for _, c := range l.Misfits() {
		name := c.Of.String()
		switch {
		case c.Of == layout.Overlaps:
			a, b := l.Parts[c.A].Band, l.Parts[c.B].Band
			name += fmt.Sprint(min(a, b), max(a, b))
		case c.Of == layout.TooWide && len(c.Bands) == 2: // that they overlap is not said then
			name = layout.Overlaps.String() + fmt.Sprint(min(c.Bands[0], c.Bands[1]), max(c.Bands[0], c.Bands[1]))
		case c.Of == layout.PathShort: // of the walls nothing is said then
			name = layout.WallsShort.String()
		case c.Of == layout.BoxesOverlap: // of the splay nothing is said then
			name = layout.BoxesCollide.String()
		case c.A >= 0:
			name += fmt.Sprint(l.Parts[c.A].Band)
		}
		out = append(out, name)
	}
	return out
}

// follows lets lengths of the box move with others, as [follow] does.
func follows(t *testing.T, d *design.Design) []schema.Link {
	t.Helper()
	var out []schema.Link
	for _, f := range []struct {
		target, source string
		factor         float64
	}{
		{"horn.offset", "woofer.offset", -1}, {"cabinet.rear_height", "cabinet.depth", -0.1}, {"woofer.setback", "woofer.depth", 1},
		{"cabinet.width", "woofer.lateral_spacing", 1}, {"compression_driver.diameter", "compression_driver.depth", 0.5}, {"mid.offset", "horn.offset", 0.5},
		{"cabinet.width", "horn.mouth_width", 0.2}, {"enclosure.vent_rise", "enclosure.vent_offset", 0.1},
	} {
		open := schema.OpenLink{Link: schema.Link{Target: schema.FindKey(f.target), Source: schema.FindKey(f.source), Factor: f.factor}}
		if math.IsNaN(open.Source.Number(d)) || math.IsNaN(open.Target.Number(d)) || slices.ContainsFunc(out, func(l schema.Link) bool { return l.Target == open.Target }) {
			continue
		}
		if err := open.Settle(d); err != nil {
			t.Fatal(err)
		}
		out = append(out, open.Link)
	}
	return out
}

func seeded(i int, of uint64) *rand.Rand { return rand.New(rand.NewPCG(uint64(i), of)) }

// Every mending value of random boxes is tried: with it all misfits that name it are gone and no other
// has come, and one printed step beyond it the misfit is back.
func TestMendingValues(t *testing.T) {
	count, mended, linked, shared := 1000, 0, 0, 0
	if testing.Short() {
		count = 100
	}
	reasons := map[layout.Reason]int{}
	misfits := 0
	for i := range count {
		d := designtest.Laid(seeded(i, 3))
		if p := check.Design(&d); len(p) > 0 {
			t.Fatalf("box %d cannot be computed: %v", i, p)
		}
		var links []schema.Link
		if i%2 == 0 {
			links = follows(t, &d)
		}
		had := names(&d)
		of := map[string][]string{} // the misfits that the value of a key is to mend
		mends := map[string]*Mend{}
		for n, c := range Of(&d, links).Misfits {
			misfits++
			if c.Mend == nil {
				continue
			}
			mended++
			reasons[c.Of]++
			linked += len(schema.Acting(links, []*schema.Key{c.Mend.Key}))
			path := c.Mend.Key.Path
			if m := mends[path]; m != nil && (m.Setting() != c.Mend.Setting() || m.Bound != c.Mend.Bound) {
				t.Errorf("box %d: two values of one key: at %s %s, at %s %s", i, m.Bound, m.Setting(), c.Mend.Bound, c.Mend.Setting())
			}
			mends[path], of[path] = c.Mend, append(of[path], had[n])
		}
		for path, m := range mends {
			if m.Of > 1 {
				shared++
			}
			if m.Of != len(of[path]) {
				t.Errorf("box %d: %s is said to mend %d misfits, %d name it", i, m.Setting(), m.Of, len(of[path]))
			}
			try(t, fmt.Sprintf("box %d", i), &d, links, m, of[path], had)
		}
	}
	t.Logf("%d misfits, %d mended, %d of them with links, %d values of several: %v", misfits, mended, linked, shared, reasons)
	if shared == 0 {
		t.Error("no value that mends several misfits")
	}
	if linked == 0 {
		t.Error("no mending value that others follow")
	}
	if mended < misfits*9/10 {
		t.Errorf("of %d misfits %d have a mending value", misfits, mended)
	}
}

// try applies a mending value and one printed step beyond it.
func try(t *testing.T, box string, d *design.Design, links []schema.Link, m *Mend, misfits, had []string) {
	t.Helper()
	with := set(t, *d, links, m.Setting())
	for _, name := range names(&with) {
		if slices.Contains(misfits, name) {
			t.Errorf("%s: %s is not gone with %s", box, name, m.Setting())
		} else if !slices.Contains(had, name) {
			t.Errorf("%s: %s has come with %s", box, name, m.Setting())
		}
	}
	step := printed[m.Key.Kind]
	if m.Key.Type == schema.Count {
		step = 1
	}
	if m.Bound == Least {
		step = -step
	}
	beyond := set(t, *d, links, m.Key.Path+"="+m.Key.Canonical(m.Value+step))
	if !slices.ContainsFunc(names(&beyond), func(name string) bool { return slices.Contains(misfits, name) }) {
		t.Errorf("%s: none of %q is back one step beyond %s of at %s %s", box, misfits, m.Key.Path, m.Bound, m.Setting())
	}
}

// plain is a box 620 × 268 mm, 430 mm deep of 18 mm panels, 4 mm apart.
func plain() design.Design {
	d := design.New()
	d.Cabinet = design.Dimensions{Height: optional.Of(0.268), Width: optional.Of(0.62), Depth: optional.Of(0.43), Gap: optional.Of(0.004), Wall: optional.Of(0.018)}
	d.Line.Boxes = 3
	return d
}

// Cases worked out by hand.
func TestMendsByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		set  string // in turn, apart by spaces
		of   layout.Reason
		want string
		side Bound
	}{
		// 620 − 241.3 mm are left beside the woofer.
		{"mouth", "woofer.size=241.3mm horn.mouth_width=600mm horn.mouth_height=258mm", layout.TooWide, "horn.mouth_width=378.7 mm", Most},
		// Between woofers 200 mm wide 490 mm apart are 290 mm.
		{"twins", "woofer.per_box=2 woofer.columns=2 woofer.size=200mm woofer.lateral_spacing=390mm horn.mouth_width=220mm horn.mouth_height=258mm", layout.TooWide, "horn.mouth_width=190 mm", Most},
		// Each box keeps to its side of the plane through the hinge half way between them:
		// 268 + 4 − 2·430·tan 2° = 241.968 mm.
		{"rear", "cabinet.rear_height=268mm line.splay=4deg,0deg", layout.BoxesCollide, "cabinet.rear_height=241.9 mm", Most},
		// 394 × 584 × 232 mm = 53.382 L.
		{"volume", "enclosure.volume=60L", layout.VolumeShort, "enclosure.volume=53.38 L", Most},
		// 430 − 18 mm behind the front, of which 300 mm stand in front of the cone.
		{"depth", "woofer.size=200mm woofer.depth=120mm woofer.setback=300mm", layout.LeavesDepth, "woofer.setback=292 mm", Most},
		// Without a setback the cone itself: 412 mm.
		{"long", "woofer.size=200mm woofer.depth=500mm", layout.LeavesDepth, "woofer.depth=412 mm", Most},
		// (268 − 241.3)/2 = 13.35 mm.
		{"height", "woofer.size=241.3mm woofer.rise=20mm", layout.LeavesHeight, "woofer.rise=13.3 mm", Most},
		// (620 − 241.3)/2 = 189.35 mm to the right.
		{"width", "woofer.size=241.3mm woofer.offset=-200mm", layout.LeavesWidth, "woofer.offset=-189.3 mm", Least},
		// Three rows of mids 80 mm wide in 268 mm: (268 − 80)/2 = 94 mm.
		{"rows", "mid.size=80mm mid.per_box=3 mid.columns=1 mid.spacing=100mm", layout.LeavesHeight, "mid.spacing=94 mm", Most},
		// Through 18 mm of front and 412 mm of room behind it.
		{"vent", "enclosure.vent_diameter=60mm enclosure.vent_offset=0mm enclosure.vent_length=450mm", layout.VentLong, "enclosure.vent_length=412 mm", Most},
		// (300 − 20)/2 at 45 degrees.
		{"walls", "horn.mouth_width=300mm horn.mouth_height=258mm horn.coverage=90deg horn.throat=20mm horn.side_walls=straight horn.length=120mm",
			layout.WallsShort, "horn.length=140 mm", Least},
		// A pitch beside the height instead of the gap.
		{"pitch", "cabinet.height=268mm", layout.BoxesOverlap, "cabinet.height=260 mm", Most},
	} {
		d := plain()
		if c.of == layout.BoxesOverlap {
			d.Cabinet.Pitch, d.Cabinet.Gap = optional.Of(0.26), optional.Float{}
		}
		for _, s := range strings.Fields(c.set) {
			d = set(t, d, nil, s)
		}
		f := Of(&d, nil)
		if len(f.Misfits) != 1 || f.Misfits[0].Of != c.of || f.Misfits[0].Mend == nil {
			t.Errorf("%s: %+v", c.name, f.Misfits)
			continue
		}
		m := f.Misfits[0].Mend
		if got := m.Setting(); got != c.want || m.Bound != c.side {
			t.Errorf("%s: at %s %s, want at %s %s", c.name, m.Bound, got, c.side, c.want)
		}
		try(t, c.name, &d, nil, m, names(&d)[:1], names(&d))
	}
}

// Two woofers of 240 mm at 520 mm round a mouth of 270 mm, in 740 mm: alone the mouth asks for
// 740 − 270 − 240 = 230 mm at most, or 510 mm at least, which the cabinet does not hold, and
// the cabinet for 740 − 240 = 500 mm at most. Both name the value that meets both.
func TestOneValueMendsBoth(t *testing.T) {
	d := plain()
	d.Cabinet.Width = optional.Of(0.74)
	for _, s := range strings.Fields("woofer.per_box=2 woofer.columns=2 woofer.size=240mm woofer.lateral_spacing=520mm horn.mouth_width=270mm horn.mouth_height=258mm") {
		d = set(t, d, nil, s)
	}
	f := Of(&d, nil)
	if len(f.Misfits) != 2 {
		t.Fatalf("%d misfits, want 2", len(f.Misfits))
	}
	for _, c := range f.Misfits {
		if m := c.Mend; m == nil || m.Setting() != "woofer.lateral_spacing=230 mm" || m.Bound != Most || m.Of != 2 {
			t.Errorf("%s: %+v", c.Of, c.Mend)
		}
	}
	with := set(t, d, nil, f.Misfits[1].Mend.Setting())
	if left := names(&with); len(left) > 0 {
		t.Errorf("with %s: %q", f.Misfits[1].Mend.Setting(), left)
	}
}
