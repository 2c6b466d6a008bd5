package review

import (
	"strings"

	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/describe"
	"gapline/internal/document"
	"gapline/internal/render/page"
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
	st.Sizing.Wave, st.Sizing.Measured = b.sizing.Wave, b.sizing.Measured
	if st.Vertical == nil && st.NoVertical != "" {
		missing(s, "The vertical width is not worked out: "+strings.TrimSuffix(st.NoVertical, ".")+".")
	}
	if st.Loading == nil {
		missing(s, "The loading is not worked out: "+strings.TrimSuffix(st.NoLoading, ".")+".")
	}
	page.Add(s, describe.Horn(st, advice.HornFindings(st)), b.sys)
	return nil
}

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
	st, err := fold.Run(b.design, fold.Options{Ribbon: true})
	if err != nil {
		missing(s, "The folded path is not worked out: "+err.Error()+".")
		return nil
	}
	st.Sizing.Wave, st.Sizing.Measured = b.sizing.Wave, b.sizing.Measured
	all := advice.FoldFindings(st)
	if !st.Fits {
		missing(s, "No wall fits. "+b.text(all[0].Text))
		page.AddFindings(s, all[1:], b.sys)
		return nil
	}
	r, err := describe.Fold(st, all)
	if err != nil {
		missing(s, "The folded path is not drawn: "+err.Error()+".")
		return nil
	}
	page.Add(s, r, b.sys)
	return nil
}
