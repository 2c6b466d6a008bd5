package designfile

import (
	"slices"
	"testing"
)

func TestTablesAreInTheOrderOfTheFile(t *testing.T) {
	got := tables()
	want := []string{"air", "cabinet", "line", "woofer", "mid", "enclosure", "insert", "horn", "fold", "crossover", "targets", "follow"}
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("table %s is missing from %v", w, got)
		}
	}
}
