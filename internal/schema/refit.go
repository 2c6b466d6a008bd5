package schema

import (
	"slices"

	"gapline/cabinet/design"
)

// perBox tells how many entries a list needs: none in particular, one for each box of
// the line, or one for each pair of neighbours.
type perBox int

const (
	anyLength perBox = iota
	eachBox
	eachPair
)

// need returns how many entries a list of n boxes needs; ok is false where it does not
// depend on them.
func (p perBox) need(boxes int) (n int, ok bool) {
	switch p {
	case eachBox:
		return boxes, true
	case eachPair:
		return max(boxes-1, 0), true
	}
	return 0, false
}

// Refit is a list of one entry for each box, or for each pair of neighbours, that was made
// to fit another number of boxes.
type Refit struct {
	Key   *Key
	Had   int // entries before
	Boxes int // of the line now
	List  []float64
}

// RefitRule says how a list is made to fit, for people.
const RefitRule = "when line.boxes is changed, the entries of the top boxes stay: a shorter line drops the lowest, a longer one repeats the last"

// Refitted makes every list of d that has one entry for each box, or each pair of
// neighbours, fit the number of boxes: entries are kept from the top, the lowest are
// dropped, the last is repeated. Lists that keep refuses are left alone, as are lists that
// are not given. The lists of d are replaced and never written into, so that designs may
// share them. It returns what it changed.
func Refitted(d *design.Design, keep func(*Key) bool) []Refit {
	var out []Refit
	for i := range Keys {
		k := &Keys[i]
		n, counted := k.perBox.need(d.Line.Boxes)
		if !counted || d.Line.Boxes == 0 {
			continue
		}
		list := k.list(d)
		had := len(*list)
		if had == 0 || had == n || keep != nil && keep(k) {
			continue
		}
		*list = resized(*list, n)
		out = append(out, Refit{k, had, d.Line.Boxes, *list})
	}
	return out
}

// resized returns a list of n entries that begins as the given one and repeats its last.
func resized(list []float64, n int) []float64 {
	if n <= len(list) {
		return slices.Clone(list[:n])
	}
	out := slices.Clone(list)
	for len(out) < n {
		out = append(out, list[len(list)-1])
	}
	return out
}

// PerBox reports whether the key's list has one entry for each box or each pair of
// neighbours, so that it depends on line.boxes.
func (k *Key) PerBox() bool { return k.perBox != anyLength }
