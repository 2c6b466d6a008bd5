package designfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

const followTable = "follow"

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

// rawLink is a link before its offset is settled.
type rawLink struct {
	Link
	offsetGiven bool
}

// linkFromTOML reads one entry of [follow].
func linkFromTOML(path string, raw any) (rawLink, error) {
	var l rawLink
	if l.Target = FindKey(path); l.Target == nil {
		return l, fmt.Errorf("is not a key of the design file%s", DidYouMean(path))
	}
	table, ok := raw.(map[string]any)
	if !ok {
		return l, fmt.Errorf(`is %s: a table is needed, such as { of = "cabinet.pitch", factor = 1.0 }`, describe(raw))
	}
	for _, k := range sortedKeys(table) {
		if !slices.Contains([]string{"of", "factor", "offset"}, k) {
			return l, fmt.Errorf("has the unknown part %q: of, factor and offset are possible", k)
		}
	}
	source, ok := table["of"].(string)
	switch l.Source = FindKey(source); {
	case !ok:
		return l, fmt.Errorf(`has no part of, the key that it follows: write { of = "cabinet.pitch" } or the like`)
	case l.Source == nil:
		return l, fmt.Errorf("follows %q, which is not a key of the design file%s", clip(source), DidYouMean(source))
	}
	if err := l.checkKinds(); err != nil {
		return l, err
	}
	return l, l.readTerms(table)
}

func (l *rawLink) checkKinds() error {
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

func (l *rawLink) readTerms(table map[string]any) error {
	l.Factor = 1
	switch f := table["factor"].(type) {
	case nil:
	case float64:
		l.Factor = f
	case int64:
		l.Factor = float64(f)
	default:
		return fmt.Errorf("has a factor that is %s: a plain number is needed", describe(f))
	}
	if math.IsNaN(l.Factor) || math.Abs(l.Factor) > 1e3 {
		return fmt.Errorf("has the factor %s: a number between -1000 and 1000 is needed", short(l.Factor))
	}
	switch o := table["offset"].(type) {
	case nil:
	case string:
		x, err := quantity.ParseDifference(o, l.Target.Kind)
		if err != nil {
			return fmt.Errorf("has the offset %q: %w", clip(o), err)
		}
		l.Offset, l.offsetGiven = x, true
	default:
		return fmt.Errorf("has an offset that is %s: a string with a unit is needed, in %s", describe(o), l.Target.Kind.UnitNames())
	}
	return nil
}

// DidYouMean returns " (did you mean KEY?)" for a path that is nearly a key, and
// else, when its table exists, ": [table] takes …".
func DidYouMean(path string) string {
	accepted := ""
	if table, leaf, dotted := strings.Cut(path, "."); dotted && leaf != "" {
		if leaves := leavesOf(table); len(leaves) > 0 {
			accepted = fmt.Sprintf("[%s] takes %s", table, strings.Join(leaves, ", "))
		}
	}
	return didYouMeanOr(nearestKey(path), accepted)
}

// didYouMeanOr suggests the near word, or says what is accepted when there is
// none.
func didYouMeanOr(near, accepted string) string {
	switch {
	case near != "":
		return fmt.Sprintf(" (did you mean %s?)", near)
	case accepted != "":
		return ": " + accepted
	}
	return ""
}

// settle fixes the offsets that the file leaves open. A key that has a value of
// its own follows from there: its offset is what makes the present value hold.
func (l *rawLink) settle(d *design.Design) error {
	source, target := l.Source.Number(d), l.Target.Number(d)
	if !numeric.Given(source) || !numeric.Given(target) {
		return nil
	}
	if !l.offsetGiven {
		l.Offset = target - l.Factor*source
		return nil
	}
	if want := l.Factor*source + l.Offset; math.Abs(want-target) > 1e-6*math.Abs(want) {
		return fmt.Errorf("is %s in its own table, but following %s makes it %s: leave out one, or the offset",
			quantity.Format(target, l.Target.Kind, quantity.Metric), l.Source.Path, quantity.Format(want, l.Target.Kind, quantity.Metric))
	}
	return nil
}

// order sorts links so that each comes after the one that sets its source. It
// returns the keys of a circle when there is one.
func order(links []rawLink) (sorted []rawLink, circle []string) {
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
func waiting(links []rawLink, done map[*Key]bool, key *Key) bool {
	for _, l := range links {
		moves := l.Target == key || key.Path == "cabinet.pitch" && l.Target.Path == "cabinet.height"
		if moves && !done[l.Target] {
			return true
		}
	}
	return false
}
