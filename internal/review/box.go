package review

import (
	"strings"

	"gapline/internal/check"
	"gapline/internal/document"
	"gapline/internal/numeric"
	"gapline/internal/picture"
	"gapline/internal/screen"
	"gapline/internal/study/box"
)

// boxStudy studies the box of the design once, or says in the section why it
// cannot.
func (b *builder) boxStudy(s *document.Section, what string) (*box.Study, error) {
	if b.oneBox == nil {
		st, err := box.Run(b.ctx, b.File, box.Options{}, b.sys)
		if err != nil {
			return nil, lacking(s, what, err)
		}
		b.oneBox = st
	}
	return b.oneBox, nil
}

// box is the low end of one box and what a stack of them gains.
func (b *builder) box(s *document.Section) error {
	st, err := b.boxStudy(s, "The low end of the box")
	if st == nil {
		return err
	}
	if st.Stack == nil {
		missing(s, "The stack is not worked out: "+st.StackWhy+".")
	}
	addPicture(s, "box", picture.Box(st, "all", b.sys), "Response, impedance, excursion and maximum level of one box")
	if st.Stack != nil {
		addPicture(s, "box-stack", picture.Box(st, "stack", b.sys), "Level of a stack of boxes, and what each doubling gains")
	}
	conditions, blocks := screen.BoxBlocks(st, b.sys)
	addBlocks(s, conditions, blocks)
	addFindings(s, st.Findings)
	return nil
}

// insert compares the box with and without its insert.
func (b *builder) insert(s *document.Section) error {
	d := b.design
	if !d.HasInsert() {
		missing(s, "The design has no insert, so there is nothing to compare: an insert takes [insert] mouths, mouth_height, mouth_width, slot_depth and chamber_volume.")
		return nil
	}
	if lacks := check.InsertLacks(d); len(lacks) > 0 {
		missing(s, "The insert's filter is not worked out: it needs "+strings.Join(lacks, ", ")+".")
	} else {
		st, err := b.boxStudy(s, "What the insert does to the response")
		if err != nil {
			return err
		}
		if st != nil && st.Insert != nil {
			addPicture(s, "insert", picture.Box(st, "insert", b.sys), "Level of one box with and without the insert, and the difference")
			addBlocks(s, "", screen.InsertBlocks(st, b.sys))
		}
	}
	if !numeric.Given(d.Insert.MouthHeight) || !numeric.Given(d.Insert.MouthWidth) {
		return nil // said above
	}
	if _, err := d.InsertPlate().Outlines(); err != nil {
		missing(s, "The plate is not drawn: "+err.Error()+".")
		return nil
	}
	addPicture(s, "plate", picture.InsertPlate(d, &b.sizing, b.sys), "The insert's plate from the front")
	return nil
}
