package design

import (
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// Mounting is how a band stands to the others; zero: not given, which is beside them.
type Mounting int

// The mountings.
const (
	Beside  Mounting = 1 + iota // no part in the room of another
	Coaxial                     // in front of, or through, the drivers of a lower band
	mountingCount
)

var mountings = [mountingCount]string{Beside: "beside", Coaxial: "coaxial"}

// Name returns the mounting's word in the design file.
func (m Mounting) Name() string { return wordset.Row(mountings[:], m) }

func (m Mounting) String() string { return m.Name() }

// Panel is a wall of the cabinet; zero: not given, which is the front.
type Panel int

// The panels.
const (
	FrontPanel Panel = 1 + iota
	SidePanels       // left and right in turn, the left first
	RearPanel
	panelCount
)

var panels = [panelCount]string{FrontPanel: "front", SidePanels: "sides", RearPanel: "rear"}

// Name returns the panel's word in the design file.
func (p Panel) Name() string { return wordset.Row(panels[:], p) }

func (p Panel) String() string { return p.Name() }

// OrDefault returns the panel, the front when none is given.
func (p Panel) OrDefault() Panel {
	if p == 0 {
		return FrontPanel
	}
	return p
}

// Outlet is where the vents or passive radiators of a box open. Several on the front
// or rear stand one above the other, spread evenly over the height.
type Outlet struct {
	Panel  Panel
	Offset optional.Float // on front and rear: left of the middle, as seen from behind; on the sides: behind the front, m
	Rise   optional.Float // of their middle above the middle of the front, m; by default 0
	Depth  optional.Float // of a passive radiator, m
}

// WooferColumns returns how many woofers of one box stand side by side. Without a
// count, woofers with a vertical spacing stand in one column and others in one row.
func (d *Design) WooferColumns() int {
	return columns(d.Bands.Woofer.Columns, d.WoofersPerBox(), d.Woofer.Spacing)
}

// MidColumns is the same for the mids.
func (d *Design) MidColumns() int {
	return columns(d.Bands.Mid.Columns, max(d.Mid.PerBox, 1), d.Mid.Spacing)
}

func columns(given, perBox int, spacing optional.Float) int {
	switch {
	case given > 0:
		return min(given, perBox)
	case spacing.Given():
		return 1
	}
	return perBox
}

// WooferRows returns how many woofers of one box stand above each other.
func (d *Design) WooferRows() int { return rows(d.WoofersPerBox(), d.WooferColumns()) }

// MidRows is the same for the mids.
func (d *Design) MidRows() int { return rows(max(d.Mid.PerBox, 1), d.MidColumns()) }

func rows(perBox, columns int) int { return (perBox + columns - 1) / columns }

// InsertMouths returns how many mouths the insert has in one box: those of a column
// of woofers times the columns.
func (d *Design) InsertMouths() int { return d.Insert.Mouths * d.WooferColumns() }

// WooferSpacing returns the vertical distance between the woofers of one box in m: as
// given, or their size where several rows stand above each other; NaN for one row.
func (d *Design) WooferSpacing() float64 {
	return rowSpacing(d.WooferRows(), d.Woofer.Spacing, d.Woofer.Size.Or(d.Woofer.Diameter()))
}

// MidSpacing is the same for the mids.
func (d *Design) MidSpacing() float64 {
	return rowSpacing(d.MidRows(), d.Mid.Spacing, d.Mid.Size.Or(d.Mid.Diameter()))
}

func rowSpacing(rows int, given optional.Float, size float64) float64 {
	switch {
	case rows < 2:
		return numeric.Absent
	case given.Given():
		return given.Value()
	}
	return size
}
