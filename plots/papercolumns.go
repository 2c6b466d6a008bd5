package plots

import "gonum.org/v1/plot/vg"

// columnGap is the room between the two columns of a page.
const columnGap vg.Length = 16

// How large a narrow picture is drawn beside a text: usual, and at least, where that saves
// a page.
const usualNarrow, leastNarrow = 0.9, 0.72

// Beside sets a picture, narrow, at the right and what set adds at its left. Where that is
// longer than a page the picture follows it in full width.
func (p *Paper) Beside(fig Figure, caption string, set func(*Paper) error) error {
	s, err := Narrow(fig).layout()
	if err != nil {
		return err
	}
	const wide = narrowWidth * usualNarrow
	lines := wrap(caption, cellSize, false, wide, 0)
	text := p.width - wide - columnGap
	height, err := p.measure(text, set)
	if err != nil {
		return err
	}
	scale := vg.Length(usualNarrow)
	if p.tight {
		scale = leastNarrow
	} else if left := p.room() - headingsHeight(p.waiting); left >= height {
		scale = min(usualNarrow, max(leastNarrow, (left-p.pictureHeight(s, lines)+s.height)/s.height))
	}
	height = max(height, p.pictureHeight(s, lines)-s.height*(1-scale))
	if height > p.bottom-paperTop-headingsHeight(p.waiting) {
		if err := set(p); err != nil {
			return err
		}
		return p.Figure(fig, caption)
	}
	p.start(height)
	return p.column(func() error {
		top := p.y
		p.width = text
		if err := set(p); err != nil {
			return err
		}
		end := p.y
		p.y, p.left, p.width = top, p.left+text+columnGap, wide
		p.draw(s, scale, p.left+(wide-s.width*scale)/2, lines)
		p.y = max(end, p.y)
		return nil
	})
}

// leastRow is how small the pictures of a row are drawn at least, where that saves a page.
const leastRow = 0.85

// row is two pictures side by side as they are to be drawn.
type row struct {
	sheets [2]*sheet
	lines  [2][]string
	scales [2]vg.Length
	height vg.Length
}

// rowOf measures a row for the room that there is: smaller where that saves a page.
func (p *Paper) rowOf(figs [2]Figure, captions [2]string) (row, error) {
	var r row
	for i, fig := range figs {
		var err error
		if r.sheets[i], err = Narrow(fig).layout(); err != nil {
			return r, err
		}
		r.lines[i] = wrap(captions[i], cellSize, false, narrowWidth, 0)
	}
	headings := headingsHeight(p.waiting)
	r.fit(p, p.room()-headings)
	if r.height > p.room()-headings || min(r.scales[0], r.scales[1]) < leastRow {
		r.fit(p, p.bottom-paperTop-headings)
	}
	return r, nil
}

// fit draws both as large as the height lets them be.
func (r *row) fit(p *Paper, most vg.Length) {
	r.height = 0
	for i, s := range r.sheets {
		below := p.pictureHeight(s, r.lines[i]) - s.height
		r.scales[i] = min(1, max(0.01, (most-below)/s.height))
		r.height = max(r.height, s.height*r.scales[i]+below)
	}
}

// HoldsRow reports whether a row fits on the page in hand.
func (p *Paper) HoldsRow(figs [2]Figure, captions [2]string) bool {
	r, err := p.rowOf(figs, captions)
	return err == nil && (p.fresh() || r.height <= p.room()-headingsHeight(p.waiting))
}

// HoldsFigure reports whether a picture of the full width does.
func (p *Paper) HoldsFigure(fig Figure, caption string) bool {
	s, err := fig.layout()
	return err == nil && (p.fresh() || (p.room()-headingsHeight(p.waiting)-p.below(caption))/s.height >= leastScale)
}

// Row sets two pictures, narrow, side by side.
func (p *Paper) Row(figs [2]Figure, captions [2]string) error {
	r, err := p.rowOf(figs, captions)
	if err != nil {
		return err
	}
	sheets, lines, scales := r.sheets, r.lines, r.scales
	p.start(r.height)
	return p.column(func() error {
		top, end, right := p.y, p.y, p.left+p.width-narrowWidth
		p.width = narrowWidth
		for i, s := range sheets {
			p.y = top
			if i == 1 {
				p.left = right
			}
			p.draw(s, scales[i], p.left+s.width*(1-scales[i])/2, lines[i])
			end = max(end, p.y)
		}
		p.y = end
		return nil
	})
}

// pictureHeight is that of a picture with its caption.
func (p *Paper) pictureHeight(s *sheet, caption []string) vg.Length {
	return s.height + cellSize*lineSpacing*vg.Length(len(caption)) + paraGap
}

// column runs work in columns of a page that has room for it, and returns to the full
// width.
func (p *Paper) column(work func() error) error {
	left, width, fixed := p.left, p.width, p.fixed
	p.fixed = true
	err := work()
	p.left, p.width, p.fixed = left, width, fixed
	return err
}

// measure is the height of what set adds in a column of a width.
func (p *Paper) measure(width vg.Length, set func(*Paper) error) (vg.Length, error) {
	m := NewPaper(p.info)
	m.width, m.bottom, m.fixed = width, 1e6, true
	err := set(m)
	return m.y - paperTop, err
}
