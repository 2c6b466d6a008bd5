package describe

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/internal/result"
	guide "gapline/waveguide/wave"
)

// text describes the section in one sentence.
func (p planParts) text() result.Text {
	d, cut := p.Design, &p.Check.Plan
	text := result.Say("Plan section in two dimensions: cabinet %s wide and %s deep, ", length(cut.Width), length(cut.Depth))
	if cut.EdgeRadius > 0 {
		text = text.And(result.Say("front edges rounded to %s, ", length(cut.EdgeRadius)))
	}
	walls := "straight walls"
	if d.Section.SideWalls == design.ProfileWalls {
		walls = d.Horn.Profile.Name() + " walls"
	}
	horn := result.Plain("horn")
	if cut.HornAt != 0 {
		horn = result.Say("horn %s", offMiddle(cut.HornAt))
	}
	text = text.And(horn).And(result.Say(" with "+walls+" from a slot %s wide to a mouth %s wide", length(2*cut.Horn[0].Across), length(d.Horn.MouthWidth.Value())))
	if d.Horn.Sides.Given() {
		text = text.And(result.Say(", side flares to %s (splitters left out)", length(2*cut.Horn[len(cut.Horn)-1].Across)))
	}
	if p.Check.Driven == section.ByWoofers {
		return text.And(result.Plain("; driven by the woofers' openings, ")).And(openings(cut)).And(result.Plain(", the slot rigid."))
	}
	return text.And(result.Plain("; driven at the slot, the woofers' openings rigid."))
}

// offMiddle is a place on the front.
func offMiddle(at float64) result.Text {
	if at < 0 {
		return result.Say("%s right of the middle", length(-at))
	}
	return result.Say("%s left of the middle", length(at))
}

// openings says where the section's openings are: a pair of equal ones in one
// breath.
func openings(cut *guide.Plan) result.Text {
	if w := cut.Openings[0]; len(cut.Openings) == 2 && cut.Symmetric() {
		return result.Say("%s wide and %s off the middle on both sides", length(w.Left-w.Right), length(math.Abs(w.Left+w.Right)/2))
	}
	var text result.Text
	for i, w := range cut.Openings {
		if i > 0 {
			text = text.And(result.Plain(", "))
		}
		text = text.And(result.Say("%s wide and ", length(w.Left-w.Right))).And(offMiddle((w.Left + w.Right) / 2))
		switch near, far := min(w.SetbackLeft, w.SetbackRight), max(w.SetbackLeft, w.SetbackRight); {
		case far == 0:
		case near == far:
			text = text.And(result.Say(", %s behind the front", length(far)))
		default:
			text = text.And(result.Say(", %s to %s behind the front", length(near), length(far)))
		}
	}
	return text
}
