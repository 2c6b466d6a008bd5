package design

import (
	"testing"

	"gapline/internal/optional"
)

func TestColumnsAndRowsFollowFromTheCount(t *testing.T) {
	for _, c := range []struct {
		name                  string
		perBox, columns       int
		spacing               optional.Float
		wantColumns, wantRows int
	}{
		{"one", 1, 0, optional.Float{}, 1, 1},
		{"side by side without a word", 2, 0, optional.Float{}, 2, 1},
		{"above each other by their spacing", 2, 0, optional.Of(0.2), 1, 2},
		{"two by two", 4, 2, optional.Of(0.1), 2, 2},
		{"above each other by their columns", 3, 1, optional.Float{}, 1, 3},
		{"side by side by their columns", 3, 3, optional.Of(0.1), 3, 1},
	} {
		d := New()
		d.Woofer.PerBox, d.Woofer.Spacing, d.Bands.Woofer.Columns = c.perBox, c.spacing, c.columns
		d.Mid.PerBox, d.Mid.Spacing, d.Bands.Mid.Columns = c.perBox, c.spacing, c.columns
		if d.WooferColumns() != c.wantColumns || d.WooferRows() != c.wantRows {
			t.Errorf("%s: woofers %d × %d, want %d × %d", c.name, d.WooferColumns(), d.WooferRows(), c.wantColumns, c.wantRows)
		}
		if d.MidColumns() != c.wantColumns || d.MidRows() != c.wantRows {
			t.Errorf("%s: mids %d × %d, want %d × %d", c.name, d.MidColumns(), d.MidRows(), c.wantColumns, c.wantRows)
		}
	}
}
