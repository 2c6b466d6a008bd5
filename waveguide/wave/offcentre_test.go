package wave

import (
	"context"
	"math"
	"slices"
	"testing"

	"gapline/internal/bem"
	"gapline/internal/reftable"
)

// straightHorn is a wall from a slot to a mouth of the given widths, m, opening by
// angle, rad; the slot is as long as wide.
func straightHorn(slot, mouth, angle float64) []WallPoint {
	deep := (mouth - slot) / 2 / math.Tan(angle/2)
	return []WallPoint{{slot / 2, -deep - slot}, {slot / 2, -deep}, {mouth / 2, 0}}
}

// offCentre are the boxes of the table, as its header gives them.
func offCentre() map[string]Plan {
	const degree = math.Pi / 180
	return map[string]Plan{
		"horn": {Width: 0.62, Depth: 0.43, HornAt: 0.129, Horn: straightHorn(0.036, 0.33, 85*degree), Drive: 1},
		"pocket": {Width: 0.5, Depth: 0.4, EdgeRadius: 0.03, HornAt: -0.09, Horn: straightHorn(0.02, 0.2, 70*degree), Drive: 1,
			Openings: []Opening{{Right: 0.03, Left: 0.2, SetbackRight: 0.02, SetbackLeft: 0.06}}},
		"woofers": {Width: 0.7, Depth: 0.45, HornAt: 0.15, Horn: straightHorn(0.03, 0.25, 60*degree),
			Openings: []Opening{{Right: -0.33, Left: -0.19, SetbackRight: 0.01, SetbackLeft: 0.05, Velocity: 1}, {Right: -0.15, Left: -0.01, Velocity: 1}}},
	}
}

func TestOffCentreAgainstFiniteElements(t *testing.T) {
	// The same boxes by a general-purpose finite-element library with a mesh of its
	// own; the table's header says how.
	const (
		edge  = 0.3 // degrees: three times what the table itself moves by on refinement
		level = 0.1 // dB, half of what it moves by, where the level is no more than 30 dB below the axis's
	)
	boxes := offCentre()
	worstEdge, worstLevel := 0.0, 0.0
	for _, row := range reftable.Read(t, "plan_finite_elements") {
		hz := row.Get("frequency_hz")
		r := mustPlan(t, boxes[row.Text("box")], []float64{hz})
		for column, got := range map[string]float64{"left_edge_deg": r.Left[0], "right_edge_deg": r.Right[0]} {
			e := math.Abs(got*180/math.Pi - row.Get(column))
			if !(e <= edge) {
				t.Errorf("%s, %g Hz: %s is %.3f°, want %.3f°", row.Name, hz, column, got*180/math.Pi, row.Get(column))
			}
			worstEdge = math.Max(worstEdge, e)
		}
		for column, at := range map[string]float64{"right_150_db": -150, "right_90_db": -90, "right_60_db": -60, "right_30_db": -30,
			"left_30_db": 30, "left_60_db": 60, "left_90_db": 90, "left_150_db": 150} {
			got, want := r.Pattern[0][planAngles+int(at*planAngles/180)], row.Get(column)
			if e := math.Abs(got - want); want > -30 {
				worstLevel = math.Max(worstLevel, e)
				if !(e <= level) {
					t.Errorf("%s, %g Hz: %.3f dB at %g°, want %.3f", row.Name, hz, got, at, want)
				}
			}
		}
	}
	t.Logf("greatest difference %.3f° of an edge, %.3f dB", worstEdge, worstLevel)
}

// mirroredPlan is the box seen in a mirror.
func mirroredPlan(p Plan) Plan {
	p.HornAt = -p.HornAt
	p.Openings = slices.Clone(p.Openings)
	for i, o := range p.Openings {
		p.Openings[i] = mirrored(o)
	}
	return p
}

func TestMirroredPlanMirrorsResults(t *testing.T) {
	f := []float64{300, 1500, 5000}
	boxes := offCentre()
	projecting := boxes["horn"]
	projecting.Horn, projecting.Lip, projecting.HornAt = append(slices.Clone(projecting.Horn), WallPoint{0.18, 0.05}), 0.008, 0.1
	curved := boxes["pocket"]
	curved.Horn = []WallPoint{{0.015, -0.15}, {0.02, -0.12}, {0.03, -0.085}, {0.05, -0.045}, {0.1, 0}}
	boxes["projecting"], boxes["curved"] = projecting, curved
	const rounding = 1e-9 // of the axis's pressure: solutions of a thousand equations
	for name, p := range boxes {
		a, b := mustPlan(t, p, f), mustPlan(t, mirroredPlan(p), f)
		n := len(a.Angle) - 1
		for i := range f {
			for j := range a.Angle {
				x, y := math.Pow(10, a.Pattern[i][j]/20), math.Pow(10, b.Pattern[i][n-j]/20)
				if math.Abs(x-y) > rounding || a.Angle[j] != -b.Angle[n-j] {
					t.Fatalf("%s, %g Hz, %g rad: %g, mirrored %g", name, f[i], a.Angle[j], x, y)
				}
			}
			same := func(x, y float64) bool { return math.Abs(x-y) < 1e-6 || math.IsNaN(x) && math.IsNaN(y) }
			if !same(a.Left[i], -b.Right[i]) || !same(a.Right[i], -b.Left[i]) || !same(a.PeakWidth[i], b.PeakWidth[i]) || !same(a.Aim()[i], -b.Aim()[i]) {
				t.Errorf("%s, %g Hz: edges %g and %g, mirrored %g and %g", name, f[i], a.Right[i], a.Left[i], b.Right[i], b.Left[i])
			}
		}
	}
}

// A symmetric box solved whole gives what its half gives: the horn stands off the
// middle by more than what counts as nothing, and by less than can be heard.
func TestWholeIsTwiceTheHalf(t *testing.T) {
	p := hornPlan()
	p.EdgeRadius = 0.02
	p.Openings = both(Opening{Right: 0.12, Left: 0.2, SetbackRight: 0.03, SetbackLeft: 0.01})
	whole := p
	whole.HornAt = 1e-8
	f := []float64{400, 1500, 6000}
	a, b := mustPlan(t, p, f), mustPlan(t, whole, f)
	if !a.Symmetric() || b.Symmetric() {
		t.Fatal("want one section symmetric and one not")
	}
	for i := range f {
		for j, want := range a.Pattern[i] {
			for _, got := range []float64{b.Pattern[i][planAngles+j], b.Pattern[i][planAngles-j]} {
				if x, y := math.Pow(10, got/20), math.Pow(10, want/20); math.Abs(x-y) > 2e-4 {
					t.Fatalf("%g Hz, %g rad: %g, want %g", f[i], a.Angle[j], x, y)
				}
			}
		}
		if math.Abs(a.Beamwidth[i]-b.Beamwidth[i]) > 1e-3 || math.Abs(b.Aim()[i]) > 1e-3 || math.Abs(a.PeakWidth[i]-b.PeakWidth[i]) > 1e-3 {
			t.Errorf("%g Hz: width %g, whole %g aimed at %g; about the peak %g, whole %g", f[i], a.Beamwidth[i], b.Beamwidth[i], b.Aim()[i], a.PeakWidth[i], b.PeakWidth[i])
		}
	}
}

func TestSymmetric(t *testing.T) {
	pair := both(Opening{Right: 0.12, Left: 0.2, SetbackRight: 0.03, Velocity: 1})
	for name, c := range map[string]struct {
		change func(*Plan)
		want   bool
	}{
		"bare":         {func(*Plan) {}, true},
		"pair":         {func(p *Plan) { p.Openings = pair }, true},
		"horn off":     {func(p *Plan) { p.HornAt = 0.001 }, false},
		"one of them":  {func(p *Plan) { p.Openings = pair[:1] }, false},
		"other drive":  {func(p *Plan) { p.Openings = slices.Clone(pair); p.Openings[0].Velocity = 2 }, false},
		"other turn":   {func(p *Plan) { p.Openings = slices.Clone(pair); p.Openings[0].SetbackLeft = 0.01 }, false},
		"other stroke": {func(p *Plan) { p.Openings = slices.Clone(pair); p.Openings[0].Left += 0.001 }, false},
	} {
		p := hornPlan()
		c.change(&p)
		if got := p.Symmetric(); got != c.want {
			t.Errorf("%s: symmetric %v", name, got)
		}
		problem, err := p.Problem(testAir)
		if err != nil || problem.Mirror != (bem.Mirror{X: c.want}) {
			t.Errorf("%s: mirror %v, %v", name, problem, err)
		}
	}
}

func TestPowerOfOffCentreBoxes(t *testing.T) {
	// What goes in at throat or cones arrives far away.
	for name, p := range offCentre() {
		problem, err := p.Problem(testAir)
		if err != nil {
			t.Fatal(err)
		}
		for _, hz := range []float64{300, 2500} {
			s, err := problem.Solve(context.Background(), hz, bem.Options{})
			if err != nil {
				t.Fatal(err)
			}
			in := 0.0
			for _, part := range []string{Throat, Woofer} {
				if tr, err := s.Trace("air", part); err == nil {
					in += tr.Power()
				}
			}
			far, err := s.Pattern("air", p.angles())
			if err != nil {
				t.Fatal(err)
			}
			out := 0.0
			for _, v := range far[1:] {
				out += real(v)*real(v) + imag(v)*imag(v)
			}
			out *= math.Pi / planAngles / (2 * testAir.Density * testAir.SoundSpeed)
			if math.Abs(out-in) > 0.005*in {
				t.Errorf("%s, %g Hz: %g W/m in, %g W/m out", name, hz, in, out)
			}
		}
	}
}
