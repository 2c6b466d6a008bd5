package generated

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/schema"
)

// driverFile puts the parameters of a band's driver into a file of their own.
func (m *maker) driverFile(table string) {
	name := table + "-driver.toml"
	m.word(table+".file", name)
	var b strings.Builder
	b.WriteString("title = \"a driver (invented)\"\n")
	for _, leaf := range []string{"fs", "qes", "qms", "vas", "re", "sd"} {
		k := key(table + "." + leaf)
		fmt.Fprintf(&b, "%s = %s\n", leaf, m.quantity(k, m.value(k)))
	}
	m.files[name] = b.String()
}

// measured lays traces beside the design, of stacks and of the horn.
func (m *maker) measured() {
	traces := map[string]func(f float64) float64{
		"stack.txt":  func(f float64) float64 { return 90 },
		"closer.txt": func(f float64) float64 { return 90 + f/300 },
		"axis.txt":   func(f float64) float64 { return 100 },
		"edge.txt":   func(f float64) float64 { return 100 - math.Min(f/150, 8) },
	}
	for name, level := range traces {
		var b strings.Builder
		for f := 20.0; f < 20e3; f *= 1.05 {
			fmt.Fprintf(&b, "%.3f\t%.3f\n", f, level(f))
		}
		m.files[name] = b.String()
		m.word("measured."+strings.TrimSuffix(name, ".txt"), name)
	}
	m.word("measured.stack_digest", schema.Digest(&m.d, schema.StackTables))
	m.word("measured.edge_digest", schema.Digest(&m.d, schema.EdgeTables))
	m.word("measured.state", "an invented prototype")
	if m.chance(0.5) {
		m.list("measured.aligned", 2, func(i int) float64 { return []float64{m.between(30, 100), m.between(100, 1000)}[i] })
	}
	m.perhaps(0.5, "measured.threshold", "measured.smoothing")
}
