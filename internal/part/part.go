package part

import (
	"fmt"
	"strconv"
	"strings"
)

// Part is slice Number of Of, counted from 1.
type Part struct {
	Number int `json:"part"`
	Of     int `json:"of"`
}

// MaxParts bounds the number of slices: more than any scheduler's array job.
const MaxParts = 1_000_000

// Parse reads "K/N".
func Parse(text string) (Part, error) {
	k, n, ok := strings.Cut(text, "/")
	number, err1 := strconv.Atoi(strings.TrimSpace(k))
	of, err2 := strconv.Atoi(strings.TrimSpace(n))
	if !ok || err1 != nil || err2 != nil {
		return Part{}, fmt.Errorf("%q is not of the form K/N, such as 3/8 for the third of eight", text)
	}
	if of < 1 || of > MaxParts || number < 1 || number > of {
		return Part{}, fmt.Errorf("%q: K from 1 to N and N up to %d are needed", text, MaxParts)
	}
	return Part{number, of}, nil
}

// Range returns the part's share of 0…n−1: from lo up to hi. The shares of all
// parts cover everything once and differ in size by one at most.
func (p Part) Range(n int) (lo, hi int) {
	share := func(k int) int {
		return int(int64(n)/int64(p.Of)*int64(k) + int64(n)%int64(p.Of)*int64(k)/int64(p.Of))
	}
	return share(p.Number - 1), share(p.Number)
}

// Deals reports whether the part takes item i of work whose items are listed with the most
// costly first. They are dealt back and forth, so that the parts cost about the same: each item
// goes to one part, and parts differ by one item at most.
func (p Part) Deals(i int) bool {
	round, place := i/p.Of, i%p.Of
	if round%2 == 1 {
		place = p.Of - 1 - place
	}
	return place == p.Number-1
}

// String returns "K/N".
func (p Part) String() string { return fmt.Sprintf("%d/%d", p.Number, p.Of) }
