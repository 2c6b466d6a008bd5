package generated

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/schema"
)

// bands draws levels, delays and crossovers.
func (m *maker) bands() {
	tables := []string{"woofer", "horn"}
	if m.d.HasMid() {
		tables = append(tables, "mid")
	}
	for _, t := range tables {
		m.perhaps(0.15, t+".sensitivity", t+".delay")
		if t != "woofer" {
			m.perhaps(0.15, t+".gain", t+".polarity")
		}
	}
	m.perhaps(0.7, "crossover.frequency")
	m.alignment("crossover.alignment", "crossover.order")
	if m.d.HasMid() {
		m.perhaps(0.5, "crossover.low_frequency")
		m.alignment("crossover.low_alignment", "crossover.low_order")
	}
}

// alignment draws a family and an order that it has: two Butterworth sections in series
// make a Linkwitz-Riley section, so its order is even.
func (m *maker) alignment(family, order string) {
	switch m.IntN(3) {
	case 0:
		m.choose(family, "linkwitz-riley")
		m.set(order, oneOf(m, 2., 4, 8))
	case 1:
		m.choose(family, "butterworth")
		m.set(order, oneOf(m, 1., 2, 3, 4, 8))
	}
}

// asked draws what is wanted of the design.
func (m *maker) asked() {
	m.perhaps(0.3, "targets.coupling", "targets.lobe_level", "targets.gap", "targets.flat_to", "targets.lowest", "targets.level_at", "targets.level")
	m.perhaps(0.1, "targets.trust")
	for i := range schema.Keys {
		if k := &schema.Keys[i]; k.Table() == "cost" {
			m.perhaps(0.3, k.Path)
		}
	}
}

// seats draws stretches of seats, and a stack that hangs clear of the floor.
func (m *maker) seats() {
	if high := m.d.Length(); high < 40 && m.chance(0.7) {
		m.within("line.top_height", 1.2*high+0.5, 100)
	}
	if !m.given("line.top_height") || m.chance(0.4) {
		return
	}
	n, from := 1+m.IntN(3), m.between(0.5, 30)
	ends := make([]float64, 2*n)
	for i := range ends {
		from += m.between(0.2, oneOf(m, 15., 15, 60))
		ends[i] = from
	}
	m.list("audience.start", n, func(i int) float64 { return ends[2*i] })
	m.list("audience.end", n, func(i int) float64 { return ends[2*i+1] })
	if m.chance(0.4) {
		m.list("audience.start_floor", n, func(int) float64 { return m.in(-2, 5) })
		m.list("audience.end_floor", n, func(int) float64 { return m.in(-2, 10) })
	}
	m.perhaps(0.5, "audience.ear_height")
	if m.chance(0.5) {
		m.within("audience.step", 0, 100)
	}
	m.perhaps(0.2, "audience.back_level", "audience.fall", "audience.over_row")
	if m.chance(0.2) {
		near := m.in(-50, 100)
		m.list("audience.quiet_from", 1, func(int) float64 { return near })
		m.list("audience.quiet_to", 1, func(int) float64 { return near + m.between(0.1, 50) })
		if m.chance(0.5) {
			m.list("audience.quiet_height", 1, func(int) float64 { return m.in(0, 300) })
		}
		m.perhaps(0.5, "audience.quiet_level")
	}
}

// words draws texts, which may hold any letter.
func (m *maker) words() {
	for _, path := range []string{"title", "review.question", "review.decision", "review.author", "review.revision", "review.reasons", "review.open_points"} {
		if m.chance(0.3) {
			m.word(path, m.phrase())
		}
	}
}

// phrase is a text of a few words in several scripts, without a control character.
func (m *maker) phrase() string {
	words := []string{"box", "Größe", "箱", "ящик", "علبة", "μ", "\"quoted\"", "back\\slash", "<b>&amp;</b>", "=1+1", "%d%s", "🔊", "", "'", strings.Repeat("long", 40)}
	var out []string
	for range 1 + m.IntN(5) {
		out = append(out, oneOf(m, words...))
	}
	return strings.Join(out, " ")
}

// tolerance is a table of tolerances of keys that the design gives.
func (m *maker) tolerance() string {
	var b strings.Builder
	b.WriteString("\n[tolerance]\nsamples = 20\n")
	m.each(4, func(k *schema.Key, x float64) {
		if k.Type == schema.Count {
			return
		}
		share := m.between(0.01, 5)
		if m.chance(0.5) {
			fmt.Fprintf(&b, "%q = { sigma = \"%.3g %%\" }\n", k.Path, share)
			return
		}
		fmt.Fprintf(&b, "%q = \"%.3g %%\"\n", k.Path, share)
	})
	return b.String()
}

// search is a table of a search over keys that the design gives, a little to either side.
func (m *maker) search() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n[search]\ngoals = [%q]\ndesigns = 100\n", oneOf(m, "minimise gap.low_hz", "maximise coupling.length_m", "minimise horn.lower_hz", "maximise gap.high_hz"))
	if m.chance(0.5) {
		fmt.Fprintf(&b, "limits = [%q]\n", oneOf(m, "gap.open_oct <= 0.2 oct", "cabinet.width <= 620 mm", "coupling.pitch_m >= 0.2"))
	}
	b.WriteString("[search.vary]\n")
	m.each(3, func(k *schema.Key, x float64) {
		low, high := math.Max(x*0.9, k.Min), math.Min(x*1.1, k.Max)
		if k.Type == schema.Count {
			low, high = math.Max(x-1, k.Min), math.Min(x+1, k.Max)
		}
		unit := k.Kind.UnitNames()
		unit, _, _ = strings.Cut(unit, ",")
		fmt.Fprintf(&b, "%q = \"%s:%s%s\"\n", k.Path, inUnit(k, low, unit), inUnit(k, high, unit), strings.TrimRight(" "+unit, " "))
	})
	return b.String()
}

// varied are keys whose change by a tenth leaves most designs as they are.
var varied = []string{"cabinet.pitch", "cabinet.width", "horn.mouth_width", "horn.coverage", "horn.lowest", "line.boxes", "woofer.effective_diameter", "insert.mouth_width", "insert.chamber_volume", "fold.layer", "enclosure.volume"}

// each hands on some of the varied keys that the design gives above 0.
func (m *maker) each(most int, do func(k *schema.Key, x float64)) {
	for _, i := range m.Perm(len(varied)) {
		k := key(varied[i])
		if x := k.Number(&m.d); x > 0 && !math.IsInf(x, 0) && most > 0 {
			most--
			do(k, x)
		}
	}
}
