package review

import (
	"gapline/cabinet/design"
	"gapline/cabinet/source"
	"gapline/internal/study/line"
	"gapline/internal/study/stored"
)

// conditions are those of the line command without flags: the box by its own pattern where a
// run of it is stored.
func (b *builder) conditions(d *sized) line.Conditions {
	p, known := b.hung[d.design]
	if !known {
		p = stored.Patterns(b.ctx, d.File.Name, d.design, false, b.o.Warn)
		if b.hung == nil {
			b.hung = map[*design.Design][]source.Pattern{}
		}
		b.hung[d.design] = p
	}
	return line.Conditions{Choice: source.Choice{Patterns: p}}
}
