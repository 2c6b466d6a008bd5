package schema

import (
	"fmt"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// Link lets one key follow another: target = factor·source + offset.
type Link struct {
	Target, Source *Key
	Factor         float64
	Offset         float64 // SI
}

// Apply sets the target from the source. A source that is not given leaves the
// target alone.
func (l *Link) Apply(d *design.Design) {
	if x := l.Source.Number(d); numeric.Given(x) {
		l.Target.SetNumber(d, l.Factor*x+l.Offset)
	}
}

// String returns the link in words.
func (l *Link) String() string {
	return fmt.Sprintf("%s = %g × %s %+g", l.Target.Path, l.Factor, l.Source.Path, l.Offset)
}

// OpenLink is a link whose offset is not settled yet.
type OpenLink struct {
	Link
	OffsetGiven bool
}

// Check returns an error where the target cannot follow the source.
func (l *OpenLink) Check() error {
	switch {
	case !l.Target.Numeric() || !l.Source.Numeric() || l.Target.Type == Count || l.Source.Type == Count:
		return fmt.Errorf("cannot follow %s: both must be quantities", l.Source.Path)
	case l.Target.Kind != l.Source.Kind:
		return fmt.Errorf("is %s and cannot follow %s, %s", l.Target.Kind.Article(), l.Source.Path, l.Source.Kind.Article())
	case l.Target == l.Source:
		return fmt.Errorf("cannot follow itself")
	}
	return nil
}

// Settle fixes the offset where it is left open. A key that has a value of
// its own follows from there: its offset is what makes the present value hold.
func (l *OpenLink) Settle(d *design.Design) error {
	source, target := l.Source.Number(d), l.Target.Number(d)
	if !numeric.Given(source) || !numeric.Given(target) {
		return nil
	}
	if !l.OffsetGiven {
		l.Offset = target - l.Factor*source
		return nil
	}
	if want := l.Factor*source + l.Offset; math.Abs(want-target) > 1e-6*math.Abs(want) {
		return fmt.Errorf("is %s in its own table, but following %s makes it %s: leave out one, or the offset",
			quantity.Format(target, l.Target.Kind, quantity.Metric), l.Source.Path, quantity.Format(want, l.Target.Kind, quantity.Metric))
	}
	return nil
}

// InOrder sorts links so that each comes after the one that sets its source. It
// returns the keys of a circle when there is one.
func InOrder(links []OpenLink) (sorted []OpenLink, circle []string) {
	done := map[*Key]bool{}
	for len(sorted) < len(links) {
		before := len(sorted)
		for _, l := range links {
			if !done[l.Target] && !waiting(links, done, l.Source) {
				done[l.Target] = true
				sorted = append(sorted, l)
			}
		}
		if len(sorted) == before {
			for _, l := range links {
				if !done[l.Target] {
					circle = append(circle, l.Target.Path)
				}
			}
			slices.Sort(circle)
			return nil, circle
		}
	}
	return sorted, nil
}

// waiting reports whether key is the target of a link not yet done. The pitch
// stands for the height too, since one moves the other.
func waiting(links []OpenLink, done map[*Key]bool, key *Key) bool {
	for _, l := range links {
		moves := l.Target == key || key.Path == "cabinet.pitch" && l.Target.Path == "cabinet.height"
		if moves && !done[l.Target] {
			return true
		}
	}
	return false
}

// Acting returns the links whose source moves when the keys do, because it is one of
// them or follows one. The others hold by themselves. A key that varies follows
// nothing.
func Acting(links []Link, keys []*Key) []Link {
	var out []Link
	moving := map[string]bool{}
	for _, k := range keys {
		moving[k.Path] = true
	}
	moves := func(path string) bool {
		switch path { // one moves the other
		case "cabinet.pitch":
			return moving[path] || moving["cabinet.height"] || moving["cabinet.gap"]
		case "cabinet.height":
			return moving[path] || moving["cabinet.pitch"]
		}
		return moving[path]
	}
	for _, l := range links {
		if !slices.Contains(keys, l.Target) && moves(l.Source.Path) {
			moving[l.Target.Path] = true
			out = append(out, l)
		}
	}
	return out
}
