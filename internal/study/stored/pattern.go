package stored

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/outside"
	"gapline/cabinet/section"
	"gapline/cabinet/source"
	"gapline/internal/study/wave"
	"gapline/internal/wavecache"
)

// driven is what moves in a run that stands for a band.
var driven = []struct {
	band  string
	moves outside.Driven
}{{source.Woofers, outside.ByWoofers}, {source.Mids, outside.ByMids}, {source.Horn, outside.ByHorn}}

// shownDigest is how many digits of a run's digest name it.
const shownDigest = 8

// mostNeighbours is the largest number of boxes that a run is looked for of.
const mostNeighbours = 9

// Patterns returns what stored runs in space say that one box of the design radiates all round, for
// the bands of which there is a run of this very box, the one with the most neighbours that the
// stack has too. warn, unless nil, is told of what is there
// and is not used.
func Patterns(ctx context.Context, file string, d *design.Design, withoutInsert bool, warn func(error)) []source.Pattern {
	store := wavecache.Beside(file)
	if !store.Exists() {
		return nil
	}
	var out []source.Pattern
	for _, x := range driven {
		if withoutInsert && d.HasInsert() && x.moves != outside.ByWoofers {
			continue // no run drives them without the insert
		}
		for n := mostNeighbours; n > 0; n -= 2 {
			if n > 1 && n > d.Line.Boxes {
				continue
			}
			if p := store.Pattern(ctx, wave.PatternOf(d, x.moves, withoutInsert, n), section.Air(d), warn); p != nil {
				out = append(out, source.Pattern{Kind: source.ByWave, Band: x.band, Of: p.Pattern, Boxes: n, Volts: p.Volts, Name: p.Run[:shownDigest]})
				break
			}
		}
	}
	return out
}
