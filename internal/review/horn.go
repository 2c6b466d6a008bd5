package review

import (
	"strings"

	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/picture"
	"gapline/internal/render/page"
	"gapline/internal/screen"
	"gapline/internal/study/fold"
	"gapline/internal/study/horn"
)

// horn is how low the horn holds its coverage and how it loads its driver.
func (b *builder) horn(s *document.Section) error {
	if faults := check.HornProblems(b.design); len(faults) > 0 {
		missing(s, "The horn is not worked out: "+strings.Join(problemTexts(faults), "; ")+".")
		return nil
	}
	st, err := horn.Run(b.design)
	if err != nil {
		missing(s, "The horn is not worked out: "+err.Error()+".")
		return nil
	}
	st.Sizing.Wave = b.sizing.Wave
	if st.Vertical == nil && st.NoVertical != "" {
		missing(s, "The vertical width is not worked out: "+strings.TrimSuffix(st.NoVertical, ".")+".")
	}
	if st.Loading == nil {
		missing(s, "The loading is not worked out: "+strings.TrimSuffix(st.NoLoading, ".")+".")
	}
	page.Add(s, describe.Horn(st, advice.HornFindings(st)), b.sys)
	return nil
}

// Rays in the drawing of the fold and in the chart over its mouth, and frequencies
// in the chart of the line.
const raysDrawn, raysCharted, ribbonPoints = 9, 201, 129

// fold is the folded path: drawing, front, line of mouths.
func (b *builder) fold(s *document.Section) error {
	if !b.design.HasFold() {
		missing(s, "The design has no folded path: [fold] throat_to_wall and layer, with horn.mouth_height, give one.")
		return nil
	}
	if faults := check.FoldProblems(b.design); len(faults) > 0 {
		missing(s, "The folded path is not worked out: "+strings.Join(problemTexts(faults), "; ")+".")
		return nil
	}
	st, err := fold.Run(b.design, raysDrawn)
	if err != nil {
		missing(s, "The folded path is not worked out: "+err.Error()+".")
		return nil
	}
	st.Sizing.Wave = b.sizing.Wave
	all := advice.FoldFindings(st)
	if !st.Fits {
		missing(s, "No wall fits. "+b.text(all[0].Text))
		page.AddFindings(s, all[1:], b.sys)
		return nil
	}
	if err := b.foldPictures(s, st); err != nil {
		return err
	}
	conditions, blocks := screen.FoldBlocks(st, b.sys)
	addBlocks(s, conditions, blocks)
	page.AddFindings(s, all, b.sys)
	return nil
}

func (b *builder) foldPictures(s *document.Section, st *fold.Study) error {
	outlines, err := st.Fold.Outlines(st.Design.Fold.WallMaterial)
	if err != nil {
		missing(s, "The folded path is not drawn: "+err.Error()+".")
		return nil
	}
	addPicture(s, "fold", picture.FoldSide(st, outlines, b.sys), "The folded path from the side: wall, rays and dimensions")
	fine, err := fold.Run(b.design, raysCharted)
	if err != nil {
		return err
	}
	addPicture(s, "front", picture.FoldFront(fine, b.sys), "How far each ray lags over the mouth, and its level")
	if st.Stack != nil {
		addPicture(s, "ribbon", picture.FoldStack(st, st.Stack.At(driver.Frequencies(500, 20e3, ribbonPoints)), b.sys), "The line of mouths against one ribbon")
	}
	return nil
}
