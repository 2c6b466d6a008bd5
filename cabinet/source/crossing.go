package source

import (
	"cmp"
	"fmt"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
)

// defaultOrder is that of a design that does not say.
const defaultOrder = 4

// filters gives each band its sections, delay and polarity.
func (b *builder) filters() {
	bands := b.model.Bands
	for i := range bands {
		bands[i].Path.Delay = b.places[i].Delay.Or(0)
	}
	for i := 1; i < len(bands); i++ {
		x := b.crossing(bands[i-1].Name, bands[i].Name)
		if len(b.problems) > 0 {
			return
		}
		low, high := &bands[i-1].Path, &bands[i].Path
		inverted := x.HighPath.Invert != (b.places[i].Polarity == filter.Inverted)
		high.Invert = low.Invert != inverted
		x.LowPath.Delay, x.HighPath.Delay, x.HighPath.Invert = low.Delay, high.Delay, inverted
		if b.choice.Open == x.Low {
			low.Delay, high.Delay, high.Invert = 0, 0, low.Invert
		} else {
			low.Sections = append(low.Sections, x.LowPath.Sections...)
			high.Sections = append(high.Sections, x.HighPath.Sections...)
		}
		b.model.Crossing = append(b.model.Crossing, x)
	}
}

// crossing works out the crossover between two bands. The one below the mids has
// its own keys, which follow the main ones where they are not given.
func (b *builder) crossing(low, high string) Crossing {
	d := b.design
	x := Crossing{Low: low, High: high, Order: d.Crossover.Order, Alignment: d.Crossover.Alignment,
		Frequency: d.Crossover.Frequency.Value(), Gain: b.placeOf(high).Gain.Or(0)}
	key := "crossover"
	s := sizing.Size(d)
	if high == Mids {
		key = "crossover.low"
		x.Frequency = d.Low.Frequency.Or(d.Mid.Lowest.Value())
		x.Order = max(d.Low.Order, 0)
		if x.Order == 0 {
			x.Order = d.Crossover.Order
		}
		x.Alignment = cmp.Or(d.Low.Alignment, d.Crossover.Alignment)
		x.Handover = sizing.MidHandover(d, &s)
	} else {
		x.Handover = sizing.HornHandover(d, &s)
	}
	if x.Order == 0 {
		x.Order = defaultOrder
	}
	x.Alignment = x.Alignment.OrDefault()
	b.settle(&x, key)
	return x
}

// placeOf returns the place of a band that the model has.
func (b *builder) placeOf(name string) *design.Place { return b.places[b.model.Band(name)] }

// settle finds a frequency that the file does not give and makes the two paths.
func (b *builder) settle(x *Crossing, key string) {
	name := key + ".frequency"
	if key == "crossover.low" {
		name = "crossover.low_frequency"
	}
	x.FromFile = numeric.Given(x.Frequency)
	if !x.FromFile {
		x.Frequency = sizing.Middle(x.Handover.From, x.Handover.To)
		if !numeric.Given(x.Frequency) {
			b.problem(fmt.Sprintf("%s is needed: where the %s hand over to the %s", name, x.Low, x.High), name, "crossover.order")
			return
		}
		b.assume(Assumption{What: WindowMiddle, Value: x.Frequency, High: x.High})
	}
	var err error
	if x.LowPath, x.HighPath, err = filter.Pair(x.Alignment, x.Order, x.Frequency); err != nil {
		order := "crossover.order"
		if key == "crossover.low" {
			order = "crossover.low_order"
		}
		b.problem(fmt.Sprintf("%s: %s", order, strings.TrimPrefix(err.Error(), "section 1: ")), order, "crossover.order", "crossover.alignment")
	}
}
