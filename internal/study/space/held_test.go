package space

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
)

// The sides of the gap as the brute force knows them, by their names in a hold.
var sideNames = map[string]sizing.GapLimit{
	"spacing": sizing.GapSpacing, "chamber": sizing.GapChamber, "pattern": sizing.GapPattern, "flare": sizing.GapFlare, "driver": sizing.GapDriver,
	"phase": sizing.GapInPhase, "coupled": sizing.GapCoupled, "part": sizing.GapPart, "computed": sizing.GapPatternComputed,
}

// problem is a search over two keys that is small enough to look at every design.
type problem struct {
	name, design, limits, goals string
	vary                        [2]string // KEY = RANGE, both with a step
	smooth                      bool      // search the ranges without steps
	want                        string    // what must be among what binds
}

const hornOnly = `[cabinet]
pitch = "300 mm"
width = "600 mm"
[line]
boxes = 6
[horn]
coverage = "90 deg"
mouth_width = "300 mm"
path_length = "1 m"
`

const withInsert = hornOnly + `lowest = "500 Hz"
[woofer]
size = "8 in"
[insert]
mouths = 2
spacing = "140 mm"
mouth_height = "110 mm"
mouth_width = "50 mm"
slot_depth = "12 mm"
chamber_volume = "0.6 L"
`

const (
	pitchFine  = `"cabinet.pitch" = "250:350:1 mm"`
	widthFine  = `"horn.mouth_width" = "200:500:3 mm"`
	widthFiner = `"horn.mouth_width" = "200:500:1 mm"`
	theGap     = `"minimise gap.open_oct"`
	insertGap  = `"minimise gap.insert_oct"`
)

var problems = []problem{
	{name: "ends of both ranges and both sides", design: hornOnly, goals: theGap, vary: [2]string{pitchFine, widthFine}, want: "low cabinet.pitch"},
	{name: "the same without steps", design: hornOnly, goals: theGap, vary: [2]string{pitchFine, widthFiner}, smooth: true, want: "high horn.mouth_width"},
	{name: "the driver's lowest frequency", design: hornOnly + "lowest = \"900 Hz\"\n", goals: theGap, vary: [2]string{pitchFine, widthFine}, want: "driver"},
	{name: "a limit on the width", design: hornOnly, limits: `"horn.mouth_width <= 401 mm"`, goals: theGap, vary: [2]string{pitchFine, widthFiner}, smooth: true,
		want: "limit horn.mouth_width"},
	{name: "the flare", design: hornOnly + "throat = \"36 mm\"\nmouth_height = \"200 mm\"\nprofile = \"exponential\"\nlength = \"100 mm\"\n", goals: theGap,
		vary: [2]string{pitchFine, `"horn.length" = "80:130:0.5 mm"`}, want: "flare"},
	{name: "a limit on the gap", design: hornOnly, limits: `"gap.open_oct <= 0.5 oct"`, goals: `"minimise horn.mouth_width"`, vary: [2]string{pitchFine, widthFiner},
		smooth: true, want: "pattern"},
	{name: "the chamber", design: withInsert, goals: insertGap, vary: [2]string{`"insert.chamber_volume" = "1:2:0.01 L"`, `"insert.mouth_width" = "30:50:0.2 mm"`},
		want: "chamber"},
	{name: "mouths that would overlap", design: withInsert, goals: `"minimise coupling.insert.area_ratio"`,
		vary: [2]string{`"insert.mouth_height" = "90:190:1 mm"`, `"insert.mouth_width" = "30:50:0.2 mm"`}, want: "refused insert.mouth_height"},
	{name: "a front that is too narrow", design: strings.Replace(hornOnly, "[line]", "[woofer]\nsize = \"9 in\"\noffset = \"180 mm\"\n[line]", 1) + "offset = \"-110 mm\"\nmouth_height = \"240 mm\"\n",
		goals: theGap, vary: [2]string{pitchFine, widthFine}, want: "misfit"},
	{name: "a goal by aperture", design: hornOnly, goals: `"minimise gap.by_trust.aperture.oct"`, vary: [2]string{pitchFine, widthFine}, want: "computed"},
	{name: "a goal by aperture without steps", design: hornOnly, goals: `"minimise gap.by_trust.aperture.oct"`, vary: [2]string{pitchFine, widthFiner}, smooth: true, want: "spacing"},
	{name: "a limit by aperture", design: hornOnly, limits: `"gap.by_trust.aperture.oct <= 0.6 oct"`, goals: `"minimise horn.mouth_width"`,
		vary: [2]string{pitchFine, widthFiner}, smooth: true, want: "computed"},
	{name: "a goal by rule within a limit by aperture", design: hornOnly, limits: `"gap.by_trust.aperture.high_hz >= 1000 Hz"`, goals: `"minimise gap.by_trust.rule.oct"`,
		vary: [2]string{pitchFine, widthFiner}, smooth: true, want: "limit gap.by_trust.aperture.high_hz"},
	{name: "the driver by aperture", design: hornOnly + "lowest = \"1100 Hz\"\n", goals: `"minimise gap.by_trust.aperture.oct"`, vary: [2]string{pitchFine, widthFine}, want: "driver"},
	{name: "the chamber by aperture", design: withInsert, goals: `"minimise gap.by_trust.aperture.oct"`,
		vary: [2]string{`"insert.chamber_volume" = "1:2:0.01 L"`, `"insert.mouth_width" = "30:50:0.2 mm"`}, want: "coupled"},
	{name: "two goals", design: hornOnly, limits: `"horn.mouth_width <= 410 mm"`, goals: theGap + `, "minimise coupling.lower_hz"`, vary: [2]string{pitchFine, widthFine},
		want: "spacing"},
}

// cell is one design of the fine grid, with all that the brute force needs: its goals, by
// how much limits are missed, why it is refused, and the sides of its gap.
type cell struct {
	at      [2]int
	score   []float64
	value   []float64 // of the limits' measures
	refused []string
	sides   map[string]ends // of the gap, by rule and by aperture
	ok      bool
}

// grid2 is the fine grid, one step wider than the ranges at either end.
type grid2 struct {
	h     *Search
	n     [2]int
	cells []cell
	share [2]int // cells that EasedBy is worth
}

func (g *grid2) cell(i, j int) *cell {
	return &g.cells[(i+g.share[0])*(g.n[1]+2*g.share[1])+j+g.share[1]]
}

// look sizes every design of the grid.
func look(t *testing.T, h *Search, smooth bool) *grid2 {
	t.Helper()
	g := &grid2{h: h, share: [2]int{1, 1}}
	for k := range 2 {
		g.n[k] = len(h.Table.Vary[k].Values)
		if smooth {
			g.share[k] = int(math.Round(EasedBy * float64(g.n[k]-1)))
		}
	}
	var z sizing.Sizer
	for i := -g.share[0]; i < g.n[0]+g.share[0]; i++ {
		for j := -g.share[1]; j < g.n[1]+g.share[1]; j++ {
			g.cells = append(g.cells, g.look(&z, i, j))
		}
	}
	return g
}

func (g *grid2) look(z *sizing.Sizer, i, j int) cell {
	d := *g.h.Base
	c := cell{at: [2]int{i, j}}
	for k, at := range c.at {
		v := g.h.Table.Vary[k].Values
		v[0].Key.SetNumber(&d, v[0].Number+float64(at)*(v[1].Number-v[0].Number))
	}
	for _, p := range check.Design(&d) {
		c.refused = append(c.refused, "refused "+p.Keys[0])
	}
	for _, m := range layout.New(&d).Misfits() {
		c.refused = append(c.refused, "misfit "+m.Of.String())
	}
	s := z.Size(&d)
	c.ok = true
	for _, goal := range g.h.Table.Goals {
		x := Value(goal.Of, &d, &s)
		c.ok = c.ok && !math.IsNaN(x)
		c.score = append(c.score, goal.Score(x))
	}
	for _, l := range g.h.Table.Limits {
		c.value = append(c.value, Value(l.Of, &d, &s))
	}
	c.sides = sides(&d, &s)
	return c
}

// ends are the limits on either side of the gap at one level of trust, Hz, by the names of
// what can be eased.
type ends struct{ low, high map[string]float64 }

// sides are the limits of the gap on the half-wave rule at both levels, as the guide defines
// them.
func sides(d *design.Design, s *sizing.Sizing) map[string]ends {
	k, i := &s.Coupling, &s.Coupling.Insert
	rule, aperture := map[string]float64{"spacing": k.Open.HalfWave}, map[string]float64{"spacing": k.Open.HalfWave}
	if d.HasInsert() {
		rule = map[string]float64{"spacing": i.HalfWave, "chamber": i.Chamber, "phase": i.InPhase}
		aperture = map[string]float64{"spacing": i.HalfWave, "coupled": i.Coupled, "part": i.Part}
	}
	flare, driver := 1.2*s.Horn.Cutoff, d.Horn.Lowest.Value()
	return map[string]ends{
		"rule":     {rule, map[string]float64{"pattern": s.Horn.PatternRule, "flare": flare, "driver": driver}},
		"aperture": {aperture, map[string]float64{"computed": s.Horn.PatternComputed, "flare": flare, "driver": driver}},
	}
}

// gap is a measure of the gap of a cell with one side eased: its octaves or an end, by rule
// where its name says no level.
func (c *cell) gap(measure, side string) float64 {
	level := "rule"
	if strings.Contains(measure, ".aperture.") {
		level = "aperture"
	}
	x := c.sides[level]
	least, most := math.Inf(1), 0.0
	for name, f := range x.low {
		if name == side {
			f *= 1 + EasedBy
		}
		if f < least { // NaN: not given
			least = f
		}
	}
	for name, f := range x.high {
		if name == side {
			f /= 1 + EasedBy
		}
		if f > most {
			most = f
		}
	}
	switch measure[strings.LastIndexByte(measure, '.')+1:] {
	case "low_hz":
		return least
	case "high_hz":
		return most
	}
	return math.Log2(most / least)
}

// relaxed is one thing eased, as the brute force does it.
type relaxed struct {
	side, refusal string
	limit         int // −1: none
	end           [2][2]int
	around        *cell
}

// allows reports whether a cell is within what is allowed, and its scores.
func (g *grid2) allows(c *cell, r relaxed) ([]float64, bool) {
	for k, at := range c.at {
		if at < -r.end[k][0] || at >= g.n[k]+r.end[k][1] {
			return nil, false
		}
		if r.refusal != "" && abs(at-r.around.at[k]) > g.share[k] {
			return nil, false
		}
	}
	if !c.ok || slices.ContainsFunc(c.refused, func(s string) bool { return s != r.refusal }) {
		return nil, false
	}
	for i, l := range g.h.Table.Limits {
		x := c.value[i]
		if strings.HasPrefix(l.Of.Name(), "gap.") {
			x = c.gap(l.Of.Name(), r.side)
		}
		if i == r.limit {
			l.Value += EasedBy * g.h.limits[i].scale() * map[bool]float64{true: 1, false: -1}[l.AtMost]
		}
		if l.Excess(x) > 1e-9 {
			return nil, false
		}
	}
	out := slices.Clone(c.score)
	for i, goal := range g.h.Table.Goals {
		if strings.HasPrefix(goal.Of.Name(), "gap.") {
			out[i] = goal.Score(c.gap(goal.Of.Name(), r.side))
		}
	}
	return out, true
}

func abs(i int) int { return max(i, -i) }

// best is the least of goal k among the cells allowed that are no worse in the others than
// from, or whatever the others come to without from; with it its cell.
func (g *grid2) best(k int, r relaxed, from []float64) (float64, *cell) {
	least, at := math.Inf(1), (*cell)(nil)
	for i := range g.cells {
		c := &g.cells[i]
		score, ok := g.allows(c, r)
		for j := 0; ok && from != nil && j < len(score); j++ {
			ok = j == k || score[j] <= from[j]+1e-9
		}
		if ok && score[k] < least {
			least, at = score[k], c
		}
	}
	return least, at
}

// gain is by how much goal k gets better with one thing eased; 0 when that is not
// noticeable.
func (g *grid2) gain(k int, r relaxed, from []float64) float64 {
	base, _ := g.best(k, relaxed{limit: -1}, from)
	eased, _ := g.best(k, r, from)
	if base-eased < noticed*g.h.goals[k].scale() {
		return 0
	}
	return base - eased
}

// name says what a hold is in the words of the brute force.
func name(o *Hold) string {
	switch o.By {
	case ByLimit:
		return "limit " + o.Limit.Of.Name()
	case ByLowEnd:
		return "low " + o.Value.Key.Path
	case ByHighEnd:
		return "high " + o.Value.Key.Path
	case ByGap:
		for n, l := range sideNames {
			if l == o.Gap {
				return n
			}
		}
	}
	if r := o.Refused[0]; len(r.Keys) > 0 {
		return "refused " + r.Keys[0]
	}
	return o.Refused[0].Text[:len("misfit")] + " " + o.Refused[0].Misfit.String()
}

// relaxations lists all that can be eased in a problem.
func (g *grid2) relaxations(at *cell) map[string]relaxed {
	out := map[string]relaxed{}
	for i, l := range g.h.Table.Limits {
		out["limit "+l.Of.Name()] = relaxed{limit: i}
	}
	for k, v := range g.h.Table.Vary {
		var low, high relaxed
		low.limit, high.limit = -1, -1
		low.end[k][0], high.end[k][1] = g.share[k], g.share[k]
		out["low "+v.Key.Path], out["high "+v.Key.Path] = low, high
	}
	for n := range sideNames {
		out[n] = relaxed{limit: -1, side: n}
	}
	for i := range g.cells {
		for _, s := range g.cells[i].refused {
			out[s] = relaxed{limit: -1, refusal: s, around: at}
		}
	}
	return out
}

// What holds a design back is what brute force finds: every design of a fine grid, with
// each thing eased in turn by the same step. On searches in steps the gains agree to
// rounding; without steps to what one cell of the grid is worth.
func TestHeldBackAgainstBruteForce(t *testing.T) {
	for _, p := range problems {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			text := p.design + fmt.Sprintf("[search]\ndesigns = 20000\nlimits = [%s]\ngoals = [%s]\n[search.vary]\n", p.limits, p.goals)
			stepped, err := NewSearch(load(t, text+p.vary[0]+"\n"+p.vary[1]), 0, -1)
			if err != nil {
				t.Fatal(err)
			}
			h := stepped
			if p.smooth {
				if h, err = NewSearch(load(t, text+withoutStep(p.vary[0])+"\n"+withoutStep(p.vary[1])), 2000, -1); err != nil {
					t.Fatal(err)
				}
				stepped.goals, stepped.limits = h.goals, h.limits // the same ranges, the same steps of easing
			}
			compareHolds(t, &p, h, look(t, stepped, p.smooth))
		})
	}
}

// withoutStep turns "KEY = LOW:HIGH:STEP UNIT" into LOW:HIGH UNIT.
func withoutStep(vary string) string {
	at := strings.LastIndex(vary, ":")
	return vary[:at] + vary[at+strings.Index(vary[at:], " "):]
}

func compareHolds(t *testing.T, p *problem, h *Search, g *grid2) {
	a, err := h.Sample(context.Background(), 0, h.Plan.Designs, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	if err := h.Refine(context.Background(), a, func(int, int) {}); err != nil {
		t.Fatal(err)
	}
	f := h.Found(a)
	if err := h.Hold(context.Background(), f, func(int, int) {}); err != nil {
		t.Fatal(err)
	}
	asked := f.Best[:1]
	if len(h.Table.Goals) > 1 {
		asked = f.Best
	}
	seen := false
	for i := range asked {
		seen = compareHold(t, p, h, g, &asked[i], h.bestIn(f, i)) || seen
	}
	if !seen {
		t.Errorf("nothing is held back by %s: %+v", p.want, asked[0].Held)
	}
}

// compareHold compares what holds one design back, and reports whether what must hold one
// is among it.
func compareHold(t *testing.T, p *problem, h *Search, g *grid2, c *Candidate, alone []int) (seen bool) {
	got := map[string][]float64{}
	for k := range c.Held {
		n := name(&c.Held[k])
		got[n] = c.Held[k].Change
		seen = seen || strings.HasPrefix(n, p.want)
	}
	from := c.point.Goals
	_, at := g.best(0, relaxed{limit: -1}, from)
	tolerance := 1e-9
	if p.smooth {
		tolerance = g.worth(at) // the optimum may lie between cells
	}
	for n, r := range g.relaxations(at) {
		k, want := 0, g.gain(0, r, from)
		for _, x := range alone {
			if want == 0 {
				k, want = x, g.gain(x, r, nil)
			}
		}
		better := 0.0
		if got[n] != nil {
			better = -h.Table.Goals[k].Score(got[n][k])
		}
		if math.Abs(better-want) > tolerance {
			t.Errorf("%s, %s eased: %s better by %g, brute force finds %g (± %g)", c.Label, n, h.Table.Goals[k], better, want, tolerance)
		}
		delete(got, n)
	}
	for n := range got {
		t.Errorf("%s: held back by %s, which is nothing that could be eased", c.Label, n)
	}
	return seen
}

// worth is the most that the first goal moves from a cell to one of its neighbours.
func (g *grid2) worth(at *cell) float64 {
	most := 0.0
	for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		n := g.cell(at.at[0]+d[0], at.at[1]+d[1])
		most = math.Max(most, math.Abs(n.score[0]-at.score[0]))
	}
	return most
}
