package design

import "gapline/internal/numeric"

// WoofersPerBox returns the number of woofers in one box, 1 where the design does
// not say.
func (d *Design) WoofersPerBox() int { return max(d.Woofer.PerBox, 1) }

// HasWoofer reports whether the design says anything about its woofers.
func (d *Design) HasWoofer() bool { return d.Woofer.PerBox > 0 || numeric.Given(d.Woofer.Diameter()) }

// HasHorn reports whether the design says anything about a horn.
func (d *Design) HasHorn() bool {
	h := &d.Horn
	return h.Coverage.Given() || h.MouthWidth.Given() || h.MouthHeight.Given() || h.Throat.Given()
}

// MidsPerBox returns the number of mids in one box, 0 without a mid band.
func (d *Design) MidsPerBox() int {
	if !d.HasMid() {
		return 0
	}
	return max(d.Mid.PerBox, 1)
}

// DriversPerBox counts woofers, mids and one compression driver with a horn.
func (d *Design) DriversPerBox() int {
	n := d.WoofersPerBox() + d.MidsPerBox()
	if d.HasHorn() {
		n++
	}
	return n
}

// Crossovers counts the crossover points: one fewer than bands.
func (d *Design) Crossovers() int {
	n := 0
	if d.HasMid() {
		n++
	}
	if d.HasHorn() {
		n++
	}
	return n
}

// CostPerBox adds up the prices of one box, in the design's currency. The price of
// a driver or crossover that the box has but the design does not give makes it NaN.
func (d *Design) CostPerBox() float64 {
	c := &d.Cost
	sum := float64(d.WoofersPerBox())*c.Woofer.Value() + c.Cabinet.Or(0)
	if n := d.MidsPerBox(); n > 0 {
		sum += float64(n) * c.Mid.Value()
	}
	if d.HasHorn() {
		sum += c.Horn.Value()
	}
	if n := d.Crossovers(); n > 0 {
		sum += float64(n) * c.Crossover.Value()
	}
	if d.HasInsert() {
		sum += c.Insert.Or(0)
	}
	return sum
}
