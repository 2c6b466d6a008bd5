package screen

import (
	"math"

	"gapline/internal/numeric"
	"gapline/internal/render/machine"
	"gapline/internal/result"
	"gapline/internal/study/fold"
	"gapline/waveguide"
)

// FoldObject is the JSON of the fold command. Where no wall fits, everything of
// the fold is null and solver says why.
func FoldObject(st *fold.Study, findings []result.Finding) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", st.Design.Title).Set("fits", st.Fits)
	if st.Fits {
		foldGeometry(o, st)
		foldNumbers(o, st)
		o.Set("stack", foldStackObject(st.Stack))
	} else {
		for _, key := range []string{"wall", "ray", "throat", "mouth", "path_spread_m", "flat_to_hz", "depth_m", "depth_saved_m", "stack"} {
			o.Set(key, nil)
		}
	}
	o.Set("solver", solverObject(st.Solved))
	return o.Set("findings", machine.Findings(findings))
}

// foldGeometry sets the points: z forward, y up. Point i of the wall is where ray
// i meets it.
func foldGeometry(o *Object, st *fold.Study) {
	var wall, ray = map[string][]float64{}, map[string][]float64{}
	for _, r := range st.Rays {
		wall["z_m"] = append(wall["z_m"], r.Wall.Z)
		wall["y_m"] = append(wall["y_m"], r.Wall.Y)
		ray["angle_deg"] = append(ray["angle_deg"], r.Angle*180/math.Pi)
		ray["path_m"] = append(ray["path_m"], r.Path)
		ray["arrival_s"] = append(ray["arrival_s"], r.Time)
		ray["mouth_y_m"] = append(ray["mouth_y_m"], r.MouthY)
		ray["level_db"] = append(ray["level_db"], r.Level)
	}
	f := &st.Fold
	o.Set("wall", (&Object{}).Set("kind", string(f.Wall.Kind())).Set("z_m", Numbers(wall["z_m"])).Set("y_m", Numbers(wall["y_m"])))
	rays := &Object{}
	for _, key := range []string{"angle_deg", "path_m", "arrival_s", "mouth_y_m", "level_db"} {
		rays.Set(key, Numbers(ray[key]))
	}
	o.Set("ray", rays)
	o.Set("throat", pointObject(f.Throat()))
	m := f.MouthSpan()
	o.Set("mouth", (&Object{}).Set("z_m", Number(f.MouthZ())).Set("y_top_m", Number(m.High)).Set("y_bottom_m", Number(m.Low)))
	if v, ok := f.Apex(); ok {
		o.Set("apex", pointObject(v))
	} else {
		o.Set("apex", nil)
	}
}

func pointObject(p waveguide.Point) *Object {
	return (&Object{}).Set("z_m", Number(p.Z)).Set("y_m", Number(p.Y))
}

func foldNumbers(o *Object, st *fold.Study) {
	f, s := &st.Fold, &st.Sizing.Fold
	o.Set("throat_to_wall_m", Number(f.Wall.Vertex)).Set("virtual_path_m", Number(f.VirtualPath()))
	o.Set("layer_m", Number(f.Spec.Layer)).Set("mouth_height_m", Number(f.Spec.MouthHeight))
	o.Set("path_spread_m", Number(s.PathSpread)).Set("path_spread_budget_m", Number(f.SpreadBudget()))
	o.Set("flat_to_hz", Number(s.FlatTo)).Set("target_flat_to_hz", Number(f.Spec.TopFrequency))
	o.Set("depth_m", Number(s.Depth)).Set("built_depth_m", Number(s.BuiltDepth)).Set("depth_saved_m", Number(s.DepthSaved))
	o.Set("straight_length_m", Number(f.StraightLength()))
	o.Set("fan_deg", Number(s.Fan*180/math.Pi)).Set("taper_db", Number(s.Taper)).Set("cross_mode_hz", Number(s.CrossMode))
	o.Set("clearance_m", Number(s.Clearance)).Set("width_m", Number(s.Width))
	o.Set("turn", (&Object{}).Set("inner_radius_m", Number(f.Spec.BendRadius)).Set("inset_m", Number(f.TurnInset())).
		Set("overhang_m", Number(f.TurnOverhang())))
	o.Set("tolerance", (&Object{}).Set("axial_m", Number(s.ToleranceAxial)).Set("lateral_m", Number(s.ToleranceLateral)).
		Set("profile_m", Number(s.ToleranceProfile)))
	var notes []*Object
	for _, n := range f.Notes() {
		notes = append(notes, (&Object{}).Set("key", n.Key).Set("ok", n.OK))
	}
	o.Set("checks", notes)
}

func foldStackObject(s *fold.Stack) any {
	if s == nil {
		return nil
	}
	o := &Object{}
	o.Set("mouths", s.Boxes).Set("pitch_m", Number(s.Front.Pitch)).Set("share", Number(s.Front.Share()))
	o.Set("lobe_target_db", Number(s.Target)).Set("ribbon_to_hz", Number(s.RibbonTo))
	var f, front, plane, loss []float64
	for _, r := range s.Rows {
		f, front, plane, loss = append(f, r.Frequency), append(front, r.FrontLobe), append(plane, r.PlaneLobe), append(loss, r.AxisChange)
	}
	return o.Set("frequency_hz", Numbers(f)).Set("lobe_db", Numbers(front)).Set("perfect_lobe_db", Numbers(plane)).Set("axis_change_db", Numbers(loss))
}

// solverObject says what the solver found; nil when the design gives the wall.
func solverObject(d *waveguide.FoldDesign) any {
	if d == nil {
		return nil
	}
	var options []*Object
	for _, w := range d.Options {
		options = append(options, (&Object{}).Set("wall", string(w.Kind)).Set("fits", w.Fits).
			Set("shortest_m", Number(w.Shortest)).Set("short_by", w.ShortBy).Set("longest_m", Number(w.Longest)).Set("long_by", w.LongBy))
	}
	o := &Object{}
	binding := fold.Binding(d)
	if binding == nil {
		binding = []string{}
	}
	o.Set("options", options).Set("binding", binding).Set("nearest", nil)
	if n := d.Nearest; !d.Fits {
		fan := n.Fan
		if numeric.Given(fan) {
			fan *= 180 / math.Pi
		}
		o.Set("nearest", (&Object{}).Set("depth_m", Number(n.CabinetDepth)).Set("height_m", Number(n.CabinetHeight)).
			Set("width_m", Number(n.CabinetWidth)).Set("mouth_height_m", Number(n.MouthHeight)).Set("fan_deg", Number(fan)).
			Set("virtual_path_m", Number(n.VirtualPath)).Set("flat_to_hz", Number(n.FlatTo)))
	}
	return o
}
