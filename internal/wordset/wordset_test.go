package wordset

import (
	"slices"
	"testing"
)

type colour int

const (
	red colour = 1 + iota
	green
	colourCount
)

var colours = [colourCount]string{red: "red", green: "green"}

func (c colour) Name() string { return Row(colours[:], c) }

func TestASetIsWalkedAndRead(t *testing.T) {
	if got := All[colour](); !slices.Equal(got, []colour{red, green}) {
		t.Errorf("members %v", got)
	}
	if got := Names[colour](); !slices.Equal(got, []string{"red", "green"}) {
		t.Errorf("names %v", got)
	}
	if c, ok := Parse[colour]("green"); c != green || !ok {
		t.Errorf("green is read as %v, %v", c, ok)
	}
	for _, word := range []string{"", "blue", "Red"} {
		if c, ok := Parse[colour](word); c != 0 || ok {
			t.Errorf("%q is read as %v, %v", word, c, ok)
		}
	}
	for _, c := range []colour{-1, 0, colourCount, 99} {
		if c.Name() != "" {
			t.Errorf("%d is called %q", c, c.Name())
		}
	}
}

type forgotten int

func (f forgotten) Name() string { return Row([]string{1: "one", 2: "", 3: "three"}, f) }

type doubled int

func (d doubled) Name() string { return Row([]string{1: "one", 2: "one"}, d) }

func TestCheckFindsRowsForgottenAndDoubled(t *testing.T) {
	if err := Check(colourCount); err != nil {
		t.Error(err)
	}
	if Check(forgotten(4)) == nil || Check(doubled(3)) == nil || Check(green) == nil {
		t.Error("a set that is not whole passes")
	}
}
