package advice

import (
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/fit"
)

// Misfits are the findings on what cannot be built together, each with the value of one
// key that mends it where there is one. They come before all others.
func Misfits(d *design.Design, f *fit.Fit) []result.Finding {
	var out []result.Finding
	for i := range f.Misfits {
		c := &f.Misfits[i]
		text := conflict(d, f.Layout, c)
		if m := c.Mend; m != nil {
			who := " It fits"
			switch {
			case m.Of == 2:
				who = " With the other misfit of the same key it fits"
			case m.Of > 2:
				who = " With the other misfits of the same key it fits"
			}
			text = text.And(result.Say(who+" with %s of at %s %s.", m.Key.Path, m.Bound.String(), mendValue(m)))
		} else {
			text = text.And(result.Say(" No single key mends it."))
		}
		out = append(out, result.Finding{Severity: result.Misfit, Key: firstKey(c), Text: text})
	}
	return out
}

// mendValue shows a mending value to its step.
func mendValue(m *fit.Mend) result.Cell {
	if m.Key.Type == schema.Count {
		return result.Count(int(m.Value))
	}
	cell := result.Num(m.Value, m.Key.Kind)
	if m.Key.Kind == quantity.Length {
		cell = cell.As(quantity.Style{Verb: "%.1f", Inch: "%.3f", Unit: "mm"})
	}
	return cell
}

// MisfitNotes are conflicts that rest on something the design does not say, each with
// the key that settles it.
func MisfitNotes(d *design.Design, f *fit.Fit) []result.Finding {
	var out []result.Finding
	for i := range f.Notes {
		c := &f.Notes[i]
		text := conflict(d, f.Layout, c).And(result.Say(" It rests on what is taken for %s, which is not given.", c.Keys[0]))
		out = append(out, result.Finding{Severity: result.Note, Key: c.Keys[0], Text: text})
	}
	return out
}

func firstKey(c *fit.Conflict) string {
	switch {
	case c.Mend != nil:
		return c.Mend.Key.Path
	case len(c.Keys) > 0:
		return c.Keys[0]
	}
	return "cabinet.height"
}

// shownKeys is how many keys a conflict names with their values.
const shownKeys = 3

// conflict says what is in what's way, in keys of the file.
func conflict(d *design.Design, l *layout.Layout, c *fit.Conflict) result.Text {
	text := reason(l, &c.Conflict)
	if !c.Certain() {
		return text.And(result.Say("."))
	}
	for i, path := range c.Keys[:min(len(c.Keys), shownKeys)] {
		join := ", "
		if i == 0 {
			join = " ("
		}
		k := schema.FindKey(path)
		if k.Type == schema.Count {
			text = text.And(result.Say("%s%s %s", join, path, result.Count(int(k.Number(d)))))
		} else {
			text = text.And(result.Say("%s%s %s", join, path, result.Num(k.Number(d), k.Kind)))
		}
	}
	if len(c.Keys) > 0 {
		text = text.And(result.Say(")"))
	}
	return text.And(result.Say("."))
}

// exact is a length to a tenth of a millimetre: what is just too much must not read alike.
func exact(m float64) result.Cell {
	return length(m).As(quantity.Style{Verb: "%.1f", Inch: "%.3f", Unit: "mm"})
}

// reason is the conflict itself.
func reason(l *layout.Layout, c *layout.Conflict) result.Text {
	name := func(i int) string { return partNames[l.Parts[i].Kind](&l.Parts[i]) }
	switch c.Of {
	case layout.TooWide:
		return tooWide(c)
	case layout.LeavesWidth:
		return result.Say("The %s would need a cabinet %s wide, cabinet.width is %s", name(c.A), exact(c.Needs), exact(c.Has))
	case layout.LeavesHeight:
		return result.Say("The %s would need a cabinet %s high, there are %s", name(c.A), exact(c.Needs), exact(c.Has))
	case layout.LeavesDepth:
		return result.Say("The %s would reach %s behind the front, the cabinet's depth leaves %s", name(c.A), length(c.Needs), length(c.Has))
	case layout.LeavesFront:
		return result.Say("The %s would stand out of the front by %s", name(c.A), length(c.Needs))
	case layout.Overlaps:
		return result.Say("The %s and the %s stand in each other's room", name(c.A), name(c.B))
	case layout.NoRoom:
		return result.Say("The front has no room left for the %s", name(c.A))
	case layout.VentLong:
		return result.Say("A vent %s long does not fit behind its panel, where there are %s", length(c.Needs), length(c.Has))
	case layout.PathShort:
		return result.Say("horn.length is %s, less than the path of %s through the fold", length(c.Has), length(c.Needs))
	case layout.WallsShort:
		return result.Say("horn.length is %s, and straight side walls at horn.coverage need %s with the path through the fold", length(c.Has), length(c.Needs))
	case layout.FoldDeep:
		return result.Say("The fold is %s deep with its turn, fold.available_depth is %s", length(c.Needs), length(c.Has))
	case layout.VolumeShort:
		return result.Say("enclosure.volume is %s, and cabinet, horn, fold, ducts and chambers leave %s", volume(c.Needs), volume(c.Has))
	case layout.BoxesOverlap:
		return result.Say("The boxes, %s high, stand in each other's room at a pitch of %s", length(c.Needs), length(c.Has))
	}
	return result.Say("Box %s and the box under it run into each other by %s at their splay", result.Count(c.Joint+1), length(c.Needs))
}

// partNames name a part of each kind.
var partNames = map[layout.Kind]func(*layout.Part) string{
	layout.Cone: func(p *layout.Part) string {
		if p.Band == layout.Mids {
			return "mids"
		}
		return "woofers"
	},
	layout.Opening:           always("openings beside the horn"),
	layout.Plate:             always("insert's plate"),
	layout.Chamber:           always("insert's chamber"),
	layout.InsertMouth:       always("insert's mouths"),
	layout.HornExit:          always("horn's mouth"),
	layout.Flare:             always("horn's side flares"),
	layout.HornBody:          always("horn's side walls"),
	layout.Fold:              always("horn's fold"),
	layout.CompressionDriver: always("compression driver"),
	layout.Vent:              always("vents"),
	layout.Radiator:          always("passive radiators"),
}

func always(name string) func(*layout.Part) string {
	return func(*layout.Part) string { return name }
}

// tooWide says which bands need more width than there is: with what stands between two
// columns, where any does.
func tooWide(c *layout.Conflict) result.Text {
	others := slices.DeleteFunc(slices.Clone(c.Bands), func(b layout.Band) bool { return b == c.Twins || slices.Contains(c.Between, b) })
	twins := bandNames([]layout.Band{c.Twins})
	switch {
	case c.Room == 0:
		return result.Say("%s need %s beside each other, cabinet.width is %s", capital(bandNames(c.Bands)), exact(c.Needs), exact(c.Has))
	case len(c.Between) == 0:
		return result.Say("The %s leave %s between them, in which there is no room for the %s, and beside each other they need %s, cabinet.width is %s",
			twins, exact(c.Room), bandNames(others), exact(c.Needs), exact(c.Has))
	case len(others) == 0:
		return result.Say("The %s with the %s between them need %s, cabinet.width is %s", twins, bandNames(c.Between), exact(c.Needs), exact(c.Has))
	}
	return result.Say("The %s with the %s between them, and the %s beside them, need %s, cabinet.width is %s",
		twins, bandNames(c.Between), bandNames(others), exact(c.Needs), exact(c.Has))
}

// bandNames lists bands.
func bandNames(bands []layout.Band) string {
	names := map[layout.Band]string{layout.Woofers: "woofers", layout.Mids: "mids", layout.Horn: "horn"}
	out := ""
	for i, b := range bands {
		switch {
		case i == 0:
		case i == len(bands)-1:
			out += " and "
		default:
			out += ", "
		}
		out += names[b]
	}
	return out
}
