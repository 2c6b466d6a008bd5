package advice

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/sizing"
	"gapline/internal/check"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// band is one that plays below the horn, and the keys of the file that shape how far it
// radiates to the sides.
type band struct {
	name                     string
	figures                  figure.Across
	lateralKey, crossoverKey string
	turnKey                  string
	place                    func(*design.Design) *design.Place
	sized                    func(*sizing.Sizing) *sizing.Horizontal
	crossover                func(*design.Design) *optional.Float
	size                     func(*design.Design) float64 // across, of one driver, m
	above                    string                       // the band that it hands over to
	// aboveFrom is from where that can be used, Hz, and by which level of trust, where the
	// levels differ.
	aboveFrom func(*finder) (hz float64, by string)
}

// hornFrom is from where the horn can be used, by the level that asks most of those that
// decide on the gap; as on its basis, where none knows.
func hornFrom(f *finder) (hz float64, by string) {
	hz = numeric.Absent
	differ := false
	for _, l := range f.judged.Decides {
		g := &f.judged.Levels[l]
		if !g.Given || g.High.By == sizing.NoLimit {
			continue
		}
		differ = differ || numeric.Given(hz) && g.High.Hz != hz
		if !(g.High.Hz <= hz) {
			hz, by = g.High.Hz, " by "+LevelNames[l]
		}
	}
	switch {
	case !numeric.Given(hz):
		return f.s.Horn.Lower, ""
	case !differ:
		return hz, ""
	}
	return hz, by
}

// bands are the woofers and the mids of a design.
func bands(d *design.Design) []band {
	woofers := band{name: "woofers", figures: figure.WoofersAcross, lateralKey: "woofer.lateral_spacing", crossoverKey: "crossover.frequency",
		sized:   func(s *sizing.Sizing) *sizing.Horizontal { return &s.Woofers },
		turnKey: "woofer.turn", place: func(d *design.Design) *design.Place { return &d.Bands.Woofer }, crossover: mainCrossover,
		size:  func(d *design.Design) float64 { return d.Woofer.Size.Or(d.Woofer.Diameter()) },
		above: "horn", aboveFrom: hornFrom}
	if !d.HasMid() {
		return []band{woofers}
	}
	woofers.crossoverKey, woofers.crossover = "crossover.low_frequency", func(d *design.Design) *optional.Float { return &d.Low.Frequency }
	woofers.above, woofers.aboveFrom = "mid band", func(f *finder) (float64, string) { return f.d.Mid.Lowest.Value(), "" }
	return []band{woofers, {name: "mids", figures: figure.MidsAcross, lateralKey: "mid.lateral_spacing", crossoverKey: "crossover.frequency",
		sized:   func(s *sizing.Sizing) *sizing.Horizontal { return &s.Mids },
		turnKey: "mid.turn", place: func(d *design.Design) *design.Place { return &d.Bands.Mid }, crossover: mainCrossover,
		size:  func(d *design.Design) float64 { return d.Mid.Size.Or(d.Mid.Diameter()) },
		above: "horn", aboveFrom: hornFrom}}
}

func mainCrossover(d *design.Design) *optional.Float { return &d.Crossover.Frequency }

// apart is the distance in m between neighbouring columns.
func (b *band) apart(d *design.Design) float64 { return b.place(d).Lateral.Or(b.size(d)) }

// across tells what each band that does not cover the horn's coverage up to its crossover
// costs the sides, and what would mend it.
func (f *finder) across() {
	for _, b := range bands(f.d) {
		h := b.sized(f.s)
		who := result.Say("The " + b.name)
		if h.Columns > 1 {
			who = result.Say("Side by side, %s apart, the "+b.name, length(b.apart(f.d)))
		}
		switch {
		case !(numeric.Given(h.CoversTo) && numeric.Given(h.Crossover)):
		case !h.Covers():
			f.price(&b, h, who)
			m := mender{finder: f, band: &b}
			m.spacing()
			m.turn()
			m.insert()
			m.lowerCrossover()
		case h.Columns > 1:
			f.detail(b.figures.CoversTo.Key, "%s cover the horn's %s up to %s, past their crossover at %s.", who, angle(f.s.Horn.ExitCoverage), hertz(h.CoversTo), hertz(h.Crossover))
		}
	}
}

// price says what the sides of the coverage lose at the crossover.
func (f *finder) price(b *band, h *sizing.Horizontal, who result.Text) {
	dip := result.Say("a null")
	if figure.WoofersAcross.Dip.Words(h.Dip) == "" {
		dip = result.Say("%s less than ahead", level(h.Dip))
	}
	wide := result.Say("%s wide", angle(h.Width))
	if !numeric.Given(h.Width) {
		wide = result.Say("wide on one side alone")
	}
	f.add(result.Note, b.figures.CoversTo.Key, "%s hand over at %s, %s there, with %s %s off the axis. They cover the horn's %s only up to %s: above it seats at the sides lose more than 6 dB.",
		who, hertz(h.Crossover), wide, dip, angle(math.Abs(h.DipAt)), angle(f.s.Horn.ExitCoverage), hertz(h.CoversTo))
}

// mender looks for single changes after which a band covers the horn's coverage up to its
// crossover. Each is sized before it is told, as printed.
type mender struct {
	*finder
	band  *band
	sizer sizing.Sizer
}

// mends reports whether the change is one: the design can exist as well as before, and the
// band covers.
func (m *mender) mends(set func(*design.Design, float64), x float64) bool {
	d := *m.d
	set(&d, x)
	if len(check.Design(&d)) > len(check.Design(m.d)) || !m.fits(&d) {
		return false
	}
	s := m.sizer.Size(&d)
	h := m.band.sized(&s)
	return h.CoversTo >= h.Crossover
}

// fits reports whether a design can be built as well as the present one: a misfit box is
// not made one that fits by chance.
func (m *mender) fits(d *design.Design) bool {
	return len(layout.New(d).Misfits()) <= len(layout.New(m.d).Misfits())
}

// furthest returns the value nearest to now, from the far end of a key's range that
// mends, which still mends as either system of units prints it.
func (m *mender) furthest(far, now float64, k quantity.Kind, set func(*design.Design, float64)) (x float64, ok bool) {
	if !m.mends(set, far) {
		return numeric.Absent, false
	}
	good, bad := far, now
	for math.Abs(bad-good) > 1e-6*math.Max(math.Abs(now), math.Abs(far)) {
		if x := (good + bad) / 2; m.mends(set, x) {
			good = x
		} else {
			bad = x
		}
	}
	step := math.Copysign(printStep*good, far-now)
	for x := good; (far-x)*step >= 0; x += step {
		metric := asPrinted(x, k, quantity.Metric)
		if m.mends(set, metric) && m.mends(set, asPrinted(metric, k, quantity.Inch)) {
			return metric, true
		}
	}
	return numeric.Absent, false
}

// printStep is the relative step in which a value that mends as printed is looked for: a
// fifth of the last of three digits at least.
const printStep = 2e-4

// asPrinted is a value as people read it.
func asPrinted(si float64, k quantity.Kind, sys quantity.System) float64 {
	x, err := quantity.Parse(quantity.Format(si, k, sys), k)
	if err != nil {
		return si
	}
	return x
}

// spacing brings the columns together until the drivers touch.
func (m *mender) spacing() {
	b := m.band
	size, now := b.size(m.d), b.apart(m.d)
	if b.sized(m.s).Columns < 2 || !(size < now) {
		return
	}
	s, ok := m.furthest(size, now, quantity.Length, func(d *design.Design, s float64) { b.place(d).Lateral = optional.Of(s) })
	if !ok {
		return
	}
	cost := result.Say("%s between them (now %s)", length(s-size), length(now-size))
	if w := m.s.Horn.ExitWidth; w <= now-size && w > s-size {
		cost = cost.And(result.Say(": the horn, %s wide, finds no place there", length(w)))
	}
	m.add(result.Try, b.lateralKey, "Columns of "+b.name+" %s apart at most (now %s). Cost: %s.", length(s), length(now), cost)
}

// widestTurn is the largest turn that is proposed: a choice, no source.
const widestTurn = 60 * quantity.Degree

// turn points the columns further outward.
func (m *mender) turn() {
	b := m.band
	now := b.place(m.d).Turn.Or(0)
	if b.sized(m.s).Columns < 2 || !(now < widestTurn) {
		return
	}
	set := func(d *design.Design, x float64) { b.place(d).Turn = optional.Of(x) }
	a, ok := m.furthest(widestTurn, now, quantity.Angle, set)
	if !ok {
		return
	}
	m.add(result.Try, b.turnKey, "Axes of the "+b.name+" turned outward by %s at least (now %s). Cost: less ahead at high frequencies, and depth.", angle(a), angle(now))
}

// narrowestMouth is the width of the narrowest insert mouth that is proposed, over that of
// the cone: a choice, no source.
const narrowestMouth = 0.25

// insert gives the woofers mouths, or narrower ones.
func (m *mender) insert() {
	cone, now := m.d.Woofer.Diameter(), m.d.Insert.MouthWidth.Value()
	if m.band.lateralKey != "woofer.lateral_spacing" {
		return
	}
	set := func(d *design.Design, w float64) {
		d.Insert.Mouths, d.Insert.MouthWidth = max(d.Insert.Mouths, 2), optional.Of(w)
	}
	w, ok := m.furthest(narrowestMouth*cone, numeric.Or(now, cone), quantity.Length, set)
	switch {
	case !ok:
	case m.d.HasInsert():
		m.add(result.Try, "insert.mouth_width", "Insert mouths %s wide at most (now %s). Cost: faster air in them, less bottom.", length(w), length(now))
	default:
		m.add(result.Try, "insert.mouth_width", "Insert, mouths %s wide at most. Cost: fast air, less bottom.", length(w))
	}
}

// lowerCrossover hands over where the band still covers.
func (m *mender) lowerCrossover() {
	b := m.band
	h := b.sized(m.s)
	x, ok := m.furthest(h.CoversTo*0.9, h.Crossover, quantity.Frequency, func(d *design.Design, x float64) { *b.crossover(d) = optional.Of(x) })
	if !ok {
		return
	}
	cost := result.Say("the " + b.above + " has to reach down there")
	switch from, by := b.aboveFrom(m.finder); {
	case from > x:
		cost = result.Say("the "+b.above+" is good only from %s%s", hertz(from), by)
	case from <= x:
		cost = result.Say("none to the "+b.above+", which is good from %s%s", hertz(from), by)
	}
	m.add(result.Try, b.crossoverKey, "Crossover of the "+b.name+" at %s at most (now %s). Cost: %s.", hertz(x), hertz(h.Crossover), cost)
}
