package fit

import (
	"fmt"
	"math"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/internal/schema"
)

// sketches leave open, together, all that a layout can take for what is not said.
func sketches() []design.Design {
	insert := designtest.Box()
	insert.Woofer.PerBox, insert.Bands.Woofer.Columns = 4, 2
	insert.Mid.EffectiveDiameter, insert.Mid.PerBox, insert.Bands.Mid.Columns = optional.Of(0.06), 4, 2
	insert.Cabinet.Width, insert.Cabinet.Depth = optional.Float{}, optional.Of(0.43)
	insert.Horn.Throat, insert.HornDrive.Depth = optional.Of(0.036), optional.Of(0.05)
	insert.Enclosure.VentDiameter, insert.Enclosure.Vent.Length = optional.Of(0.05), optional.Of(0.1)
	sketch := designtest.Box()
	sketch.Horn.MouthHeight, sketch.Insert = optional.Float{}, design.Insert{}
	folded := designtest.Folded()
	return []design.Design{insert, sketch, folded}
}

// Stating the key that settles a default makes the default go, whatever is taken.
func TestSettlingKeysSettle(t *testing.T) {
	met := map[layout.Assumed]bool{}
	has := func(d *design.Design, of layout.Default) bool {
		for _, x := range layout.New(d).Defaults {
			if x.Of == of.Of && x.Band == of.Band {
				return true
			}
		}
		return false
	}
	for i, d := range sketches() {
		for _, of := range layout.New(&d).Defaults {
			met[of.Of] = true
			k := schema.FindKey(Settles(of.Of, of.Band))
			if k == nil {
				t.Errorf("sketch %d: %+v is settled by %q, which is no key", i, of, Settles(of.Of, of.Band))
				continue
			}
			stated := d
			switch {
			case k.Type == schema.Choice:
				stated = set(t, d, nil, fmt.Sprintf("%s=%s", k.Path, k.Choices[0]))
			case math.IsNaN(of.Value) || of.Of == layout.FoldSide || of.Of == layout.PanelWall:
				stated = set(t, d, nil, k.Path+"=18 mm")
			default:
				stated = set(t, d, nil, k.Path+"="+k.Canonical(of.Value))
			}
			if has(&stated, of) {
				t.Errorf("sketch %d: %+v is still taken with %s", i, of, k.Path)
			}
		}
	}
	for of := range layout.AssumedCount {
		if !met[of] {
			t.Errorf("no sketch leaves open what number %d is taken for", of)
		}
	}
}

// The keys that could mend any misfit of any part are keys of the file.
func TestWantedKeysExist(t *testing.T) {
	designs := sketches()
	for i := range 40 {
		designs = append(designs, designtest.Laid(seeded(i, 4)))
	}
	for _, d := range designs {
		l := layout.New(&d)
		for of := range layout.ReasonCount {
			for a := range l.Parts {
				for b := range l.Parts {
					c := layout.Conflict{Of: of, A: a, B: b, Bands: []layout.Band{layout.Woofers, layout.Mids, layout.Horn}}
					for _, path := range wanted(l, &c) {
						if schema.FindKey(path) == nil {
							t.Fatalf("%s: %q is no key (parts %+v and %+v)", of, path, l.Parts[a], l.Parts[b])
						}
					}
				}
			}
		}
	}
}
