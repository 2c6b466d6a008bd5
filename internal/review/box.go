package review

import (
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/render/page"
	"gapline/internal/study/box"
)

// boxStudy studies the box of the design once, or says in the section why it
// cannot.
func (b *builder) boxStudy(s *document.Section, what string) (*box.Study, error) {
	if b.oneBox == nil {
		st, err := box.Run(b.ctx, b.design, box.Options{})
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
	page.Add(s, describe.Box(st, advice.BoxFindings(st)), b.sys)
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
			page.Add(s, describe.Insert(st), b.sys)
		}
	}
	if !d.Insert.MouthHeight.Given() || !d.Insert.MouthWidth.Given() {
		return nil // said above
	}
	plate, err := describe.Plate(d, &b.sizing)
	if err != nil {
		missing(s, "The plate is not drawn: "+err.Error()+".")
		return nil
	}
	page.Add(s, plate, b.sys)
	return nil
}
