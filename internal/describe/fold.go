package describe

import (
	"fmt"
	"math"

	"gapline/cabinet/layout"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
	"gapline/internal/study/fold"
	"gapline/internal/study/size"
	"gapline/internal/wordset"
	"gapline/waveguide"
)

// The views of a fold, the usual one first.
const (
	FoldSide    = "side"
	FoldSection = "section"
	FoldFront   = "front"
	FoldStack   = "stack"
)

// FoldViews lists the views.
var FoldViews = []string{FoldSide, FoldSection, FoldFront, FoldStack}

// Fold describes a folded path: the wall that was given or solved for, its rays, and
// the line of such mouths. The first finding judges the fold and leads the screen. The
// error says why the fold cannot be drawn.
func Fold(st *fold.Study, findings []result.Finding) (*result.Result, error) {
	f := foldParts{st}
	r := &result.Result{Title: st.Design.Title, Head: f.head()}
	r.Add(result.Findings{Shown: result.At(result.Screen), List: findings[:1]}, named("fits", result.Yes(st.Fits)))
	if st.Fits {
		r.Add(f.figures())
		r.Add(f.budget()...)
		if st.Stack != nil {
			r.Add(f.stack())
		}
		r.Add(f.fewRays(), f.geometry(), f.numbers(), f.line(), f.rays())
		charts, err := f.charts()
		if err != nil {
			return nil, err
		}
		r.Add(charts...)
	} else {
		for _, key := range []string{"wall", "ray", "throat", "mouth", "path_spread_m", "flat_to_hz", "depth_m", "depth_saved_m", "stack"} {
			r.Add(result.Section{Shown: result.At(result.Data), Key: key, Null: true})
		}
	}
	r.Add(f.solver(),
		result.Findings{Shown: result.At(result.Screen), List: findings[1:]},
		result.Findings{Shown: result.At(result.Data | result.Page), List: findings})
	return r, nil
}

type foldParts struct{ *fold.Study }

func (f foldParts) head() []result.Text {
	d := &f.Design
	text := result.Say("fold for a mouth %s high, layers %s thick", length(d.Horn.MouthHeight.Value()), length(d.Fold.Layer.Value()))
	if depth := d.FoldDepth(); numeric.Given(depth) {
		text = text.And(result.Say(", depth %s", length(depth)))
	}
	if f.Fits {
		text = text.And(result.Say("; air %s", Air(d, &f.Sizing)))
	}
	return []result.Text{text}
}

// foldRows are the figures of the fold's table in order.
var foldRows = []*figure.Def{
	figure.FoldFan, figure.FoldPathSpread, figure.FoldFlatTo, figure.FoldFlatToWave, figure.FoldTaper, figure.FoldCrossMode, figure.FoldClearance, figure.FoldWidth,
	figure.FoldDepth, figure.FoldBuiltDepth, figure.FoldDepthSaved,
	figure.FoldToleranceAxial, figure.FoldToleranceLateral, figure.FoldToleranceProfile,
}

func (f foldParts) figures() result.Section {
	var rows result.List
	w := &f.Study.Fold
	rows.Row(result.Plain("wall"), result.Word(string(w.Wall.Kind())).Trusted(figure.Geometry))
	rows.Add(result.FigureRow(result.Fig(figure.FoldThroatToWall, w.Wall.Vertex)), result.FigureRow(result.Fig(figure.FoldVirtualPath, w.VirtualPath())))
	for _, def := range foldRows {
		c := size.Cell(&f.Sizing, def)
		if def.Trust == figure.Wave && !c.Given() {
			continue // no stored run matches the design
		}
		rows.Add(result.FigureRow(c))
		switch def {
		case figure.FoldPathSpread:
			rows.Row(result.Say("budget, a quarter wave at %s", hertz(w.Spec.TopFrequency)), result.Fig(figure.FoldSpreadBudget, w.SpreadBudget()))
		case figure.FoldBuiltDepth:
			rows.Add(result.FigureRow(result.Fig(figure.FoldStraightLength, w.StraightLength())))
		}
	}
	return result.Section{Shown: result.At(result.People), Parts: []result.Part{result.Table{Shown: result.At(result.People), Title: result.Plain("FOLD"),
		Columns: []result.Column{value, headed(trust, "trust")}, Rows: rows.Rows()}}}
}

func (f foldParts) stack() result.Section {
	s := f.Stack
	count := "endless line"
	if s.Boxes > 0 {
		count = fmt.Sprintf("%d mouths", s.Boxes)
	}
	var rows result.List
	rows.Row(result.Plain("radiating share"), result.Fig(figure.FoldStackShare, s.Front.Share()))
	rows.Row(result.Say("one ribbon up to (lobes under %s)", level(s.Target)), result.Fig(figure.FoldStackRibbon, s.RibbonTo))
	for _, r := range s.Rows {
		rows.Row(result.Say("strongest lobe, endless line, %s", hertz(r.Frequency)),
			result.Fig(figure.FoldStackLobe, r.FrontLobe), result.Fig(figure.FoldStackPerfect, r.PlaneLobe))
	}
	if s.Top.Visible {
		lobe := func(d *figure.Def, l waveguide.Lobe) result.Cell { return result.FigAt(d, l.Level, angle(l.Angle)) }
		rows.Row(result.Say("strongest lobe, "+count+", %s", hertz(s.Top.Frequency)),
			lobe(figure.FoldStackLobe, s.Top.Front), lobe(figure.FoldStackPerfect, s.Top.Plane))
	}
	top := s.At([]float64{f.Study.Fold.Spec.TopFrequency})[0]
	rows.Row(result.Say("loss on axis from the bulge, %s", hertz(top.Frequency)), result.Fig(figure.FoldStackAxis, top.AxisChange))
	return result.Section{Shown: result.At(result.People), Parts: []result.Part{result.Table{Shown: result.At(result.People),
		Title:   result.Say("LINE OF MOUTHS, "+count+" at %s", length(s.Front.Pitch)),
		Columns: []result.Column{headed(value, "this front"), headed(value, "perfect front"), headed(trust, "trust")}, Rows: rows.Rows()}}}
}

// fewRays lists the rays for people, from the mouth's lower edge up.
func (f foldParts) fewRays() result.Section {
	first := math.Inf(1)
	for _, r := range f.Rays {
		first = math.Min(first, r.Time)
	}
	var rows result.List
	for _, r := range f.Rays {
		rows.Row(result.Say("%s", result.Fig(figure.FoldRayAngle, r.Angle)),
			result.Fig(figure.FoldWallZ, r.Wall.Z), result.Fig(figure.FoldWallY, r.Wall.Y),
			result.Fig(figure.FoldRayPath, r.Path), result.Fig(figure.FoldArrival, r.Time-first),
			result.Fig(figure.FoldRayMouth, r.MouthY), result.Fig(figure.FoldRayLevel, r.Level))
	}
	unit := result.Unit{Metric: "mm", Inch: "in"}
	t := result.Table{Shown: result.At(result.Screen), Title: result.Plain("  angle, °"), Rows: rows.Rows()}
	for _, head := range []result.Text{result.Say("wall z, %s", unit), result.Say("wall y, %s", unit), result.Say("path, %s", unit),
		result.Plain("after the first, µs"), result.Say("mouth y, %s", unit), result.Plain("level, dB")} {
		t.Columns = append(t.Columns, result.Column{Head: head})
	}
	return result.Section{Shown: result.At(result.Screen), Title: result.Plain(
		"RAYS, from the mouth's lower edge up; angle up from the wall's axis, z forward and y up from\n" +
			"throat and mouth's middle, level re the mouth's middle (rule: rays)"), Parts: []result.Part{t}}
}

func ray(list []waveguide.Ray, of func(*waveguide.Ray) float64) []float64 {
	return each(list, func(r waveguide.Ray) float64 { return of(&r) })
}

// budget adds up the depth that the horn takes of the box, part behind part.
func (f foldParts) budget() []result.Part {
	d := &f.Design
	p := layout.PathOf(d)
	all := p.Flares + p.Walls + p.Fold
	cells := []result.Cell{result.Fig(figure.FoldBudgetFlares, p.Flares), result.Fig(figure.FoldBudgetWalls, p.Walls), result.Fig(figure.FoldBudgetFold, p.Fold),
		result.Fig(figure.FoldBudgetAll, all), result.Fig(figure.FoldBudgetCabinet, d.Cabinet.Depth.Value()-d.Cabinet.Wall.Or(0))}
	out := []result.Part{result.Section{Shown: result.At(result.Data), Key: "budget", Parts: []result.Part{facts(cells...)}}}
	if !numeric.Given(all) {
		return out // how deep the side walls are is not known
	}
	var rows result.List
	for _, c := range cells {
		if c.SI != 0 {
			rows.If(result.Plain(c.Fig.Name), c)
		}
	}
	return append(out, result.Table{Shown: result.At(result.Screen), Title: result.Plain("DEPTH OF THE HORN, part behind part"),
		Columns: []result.Column{value, headed(trust, "trust")}, Rows: rows.Rows()})
}

// rays lists every ray, for programs.
func (f foldParts) rays() result.Table {
	return listed(result.At(result.Listing), []curve{
		{figure: figure.FoldRayAngle, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Angle })},
		{figure: figure.FoldWallZ, key: "wall_z_m", y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Wall.Z })},
		{figure: figure.FoldWallY, key: "wall_y_m", y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Wall.Y })},
		{figure: figure.FoldIncidence, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Incidence })},
		{figure: figure.FoldRayPath, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Path })},
		{figure: figure.FoldArrival, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Time })},
		{figure: figure.FoldRayMouth, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.MouthY })},
		{figure: figure.FoldRayLevel, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Level })},
	})
}

// geometry holds the points, z forward and y up. Point i of the wall is where ray i
// meets it.
func (f foldParts) geometry() result.Section {
	w := &f.Study.Fold
	in := func(key string, parts ...result.Part) result.Section {
		return result.Section{Shown: result.At(result.Data), Key: key, Parts: parts}
	}
	list := func(curves ...curve) result.Table { return listed(result.At(result.Data), curves) }
	throat, mouth := w.Throat(), w.MouthSpan()
	apex := in("apex")
	if v, ok := w.Apex(); ok {
		apex.Parts = []result.Part{facts(result.Fig(figure.FoldApexZ, v.Z), result.Fig(figure.FoldApexY, v.Y))}
	} else {
		apex.Null = true
	}
	return result.Section{Shown: result.At(result.Data), Parts: []result.Part{
		in("wall", named("kind", result.Word(string(w.Wall.Kind()))), list(
			curve{figure: figure.FoldWallZ, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Wall.Z })},
			curve{figure: figure.FoldWallY, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Wall.Y })})),
		in("ray", list(
			curve{figure: figure.FoldRayAngle, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Angle })},
			curve{figure: figure.FoldRayPath, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Path })},
			curve{figure: figure.FoldArrival, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Time })},
			curve{figure: figure.FoldRayMouth, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.MouthY })},
			curve{figure: figure.FoldRayLevel, y: ray(f.Fine, func(r *waveguide.Ray) float64 { return r.Level })})),
		in("throat", facts(result.Fig(figure.FoldThroatZ, throat.Z), result.Fig(figure.FoldThroatY, throat.Y))),
		in("mouth", facts(result.Fig(figure.FoldMouthZ, w.MouthZ()), result.Fig(figure.FoldMouthTop, mouth.High), result.Fig(figure.FoldMouthBottom, mouth.Low))),
		apex,
	}}
}

// numbers holds the figures, for programs.
func (f foldParts) numbers() result.Section {
	w, s := &f.Study.Fold, &f.Sizing.Fold
	of := func(d *figure.Def) result.Cell { return size.Cell(&f.Sizing, d) }
	var checks result.List
	for _, n := range w.Notes() {
		checks.Add(result.Row{Cells: []result.Cell{result.Word(n.Of.Name()), result.Yes(n.OK)}})
	}
	in := func(key string, cells ...result.Cell) result.Section {
		return result.Section{Shown: result.At(result.Data), Key: key, Parts: []result.Part{facts(cells...)}}
	}
	return result.Section{Shown: result.At(result.Data), Parts: []result.Part{
		facts(result.Fig(figure.FoldThroatToWall, w.Wall.Vertex), result.Fig(figure.FoldVirtualPath, w.VirtualPath()),
			result.Fig(figure.FoldLayer, w.Spec.Layer), result.Fig(figure.FoldMouthHeight, w.Spec.MouthHeight),
			of(figure.FoldPathSpread), result.Fig(figure.FoldSpreadBudget, w.SpreadBudget()),
			of(figure.FoldFlatTo), result.Fig(figure.FoldTargetFlatTo, w.Spec.TopFrequency),
			of(figure.FoldDepth), of(figure.FoldBuiltDepth), of(figure.FoldDepthSaved), result.Fig(figure.FoldStraightLength, w.StraightLength()),
			of(figure.FoldFan), of(figure.FoldTaper), of(figure.FoldCrossMode), of(figure.FoldClearance), of(figure.FoldWidth)),
		in("turn", result.Fig(figure.FoldTurnRadius, w.Spec.BendRadius), result.Fig(figure.FoldTurnInset, w.TurnInset()), result.Fig(figure.FoldTurnOverhang, w.TurnOverhang())),
		result.Section{Shown: result.At(result.Data), Key: "tolerance", Parts: []result.Part{
			named("axial_m", result.Fig(figure.FoldToleranceAxial, s.ToleranceAxial)), named("lateral_m", result.Fig(figure.FoldToleranceLateral, s.ToleranceLateral)),
			named("profile_m", result.Fig(figure.FoldToleranceProfile, s.ToleranceProfile))}},
		result.Table{Shown: result.At(result.Data), Key: "checks", As: result.Records, Columns: []result.Column{{Key: "key"}, {Key: "ok"}}, Rows: checks.Rows()},
	}}
}

// line holds the line of mouths, for programs.
func (f foldParts) line() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "stack", Null: f.Stack == nil}
	s := f.Stack
	if s == nil {
		return out
	}
	row := func(of func(fold.StackRow) float64) []float64 { return each(s.Rows, of) }
	out.Parts = []result.Part{
		facts(result.Fig(figure.FoldStackMouths, float64(s.Boxes)), result.Fig(figure.FoldStackPitch, s.Front.Pitch), result.Fig(figure.FoldStackShare, s.Front.Share()),
			result.Fig(figure.FoldStackTarget, s.Target), result.Fig(figure.FoldStackRibbon, s.RibbonTo)),
		listed(result.At(result.Data), []curve{
			{figure: figure.FoldStackFrequency, y: row(func(r fold.StackRow) float64 { return r.Frequency })},
			{figure: figure.FoldStackLobe, y: row(func(r fold.StackRow) float64 { return r.FrontLobe })},
			{figure: figure.FoldStackPerfect, y: row(func(r fold.StackRow) float64 { return r.PlaneLobe })},
			{figure: figure.FoldStackAxis, y: row(func(r fold.StackRow) float64 { return r.AxisChange })},
		}),
	}
	return out
}

// solver says what the search for a wall found; null where the design gives the wall.
func (f foldParts) solver() result.Section {
	out := result.Section{Shown: result.At(result.Data), Key: "solver", Null: f.Solved == nil}
	d := f.Solved
	if d == nil {
		return out
	}
	var options result.List
	for _, w := range d.Options {
		options.Add(result.Row{Cells: []result.Cell{result.Word(string(w.Kind)), result.Yes(w.Fits),
			result.Fig(figure.FoldSolverShortest, w.Shortest), result.Name(w.ShortBy.Name()), result.Fig(figure.FoldSolverLongest, w.Longest), result.Name(w.LongBy.Name())}})
	}
	nearest := result.Section{Shown: result.At(result.Data), Key: "nearest", Null: d.Fits}
	if n := d.Nearest; !d.Fits {
		nearest.Parts = []result.Part{facts(result.Fig(figure.FoldNearestDepth, n.CabinetDepth), result.Fig(figure.FoldNearestHeight, n.CabinetHeight),
			result.Fig(figure.FoldNearestWidth, n.CabinetWidth), result.Fig(figure.FoldNearestMouth, n.MouthHeight), result.Fig(figure.FoldNearestFan, n.Fan),
			result.Fig(figure.FoldNearestPath, n.VirtualPath), result.Fig(figure.FoldNearestFlat, n.FlatTo))}
	}
	out.Parts = []result.Part{
		result.Table{Shown: result.At(result.Data), Key: "options", As: result.Records, Rows: options.Rows(), Columns: []result.Column{{Key: "wall"}, {Key: "fits"},
			{Fig: figure.FoldSolverShortest}, {Key: "short_by"}, {Fig: figure.FoldSolverLongest}, {Key: "long_by"}}},
		named("binding", namesOf(fold.Binding(d))), nearest,
	}
	return out
}

// namesOf lists members of a closed set by name.
func namesOf[T wordset.Member](members []T) result.Cell {
	names := make([]string, len(members))
	for i, m := range members {
		names[i] = m.Name()
	}
	return result.Words(names)
}
