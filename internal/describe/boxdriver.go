package describe

import (
	"math"
	"slices"

	"gapline/driver"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/result"
)

// parameter is one of a driver's parameters: its figure, its key under [woofer] and
// its value, SI.
type parameter struct {
	figure *figure.Def
	key    string
	of     func(*driver.Parameters) float64
}

// parameters lists the driver's parameters in the order of the screen.
var parameters = []parameter{
	{figure.DriverFs, "fs", func(p *driver.Parameters) float64 { return p.Fs.Value() }},
	{figure.DriverQes, "qes", func(p *driver.Parameters) float64 { return p.Qes.Value() }},
	{figure.DriverQms, "qms", func(p *driver.Parameters) float64 { return p.Qms.Value() }},
	{figure.DriverQts, "qts", func(p *driver.Parameters) float64 { return p.Qts.Value() }},
	{figure.DriverVas, "vas", func(p *driver.Parameters) float64 { return p.Vas.Value() }},
	{figure.DriverSd, "sd", func(p *driver.Parameters) float64 { return p.Sd.Value() }},
	{figure.DriverDiameter, "effective_diameter", func(p *driver.Parameters) float64 { return p.EffectiveDiameter.Value() }},
	{figure.DriverRe, "re", func(p *driver.Parameters) float64 { return p.Re.Value() }},
	{figure.DriverLe, "le", func(p *driver.Parameters) float64 { return p.Le.Value() }},
	{figure.DriverLeExponent, "le_exponent", func(p *driver.Parameters) float64 { return p.LeExponent.Value() }},
	{figure.DriverBl, "bl", func(p *driver.Parameters) float64 { return p.Bl.Value() }},
	{figure.DriverMms, "mms", func(p *driver.Parameters) float64 { return p.Mms.Value() }},
	{figure.DriverCms, "cms", func(p *driver.Parameters) float64 { return p.Cms.Value() }},
	{figure.DriverRms, "rms", func(p *driver.Parameters) float64 { return p.Rms.Value() }},
	{figure.DriverXmax, "xmax", func(p *driver.Parameters) float64 { return p.Xmax.Value() }},
	{figure.DriverPower, "power", func(p *driver.Parameters) float64 { return p.Power.Value() }},
}

// from is the column that says where a parameter comes from.
var from = result.Column{Key: "from"}

// driver lists the driver's parameters, each with where it comes from.
func (b boxParts) driver() result.Table {
	d := &b.Setup.Driver
	var rows result.List
	rows.Add(b.parameterRows()...)
	for _, c := range []result.Cell{
		result.Fig(figure.DriverEfficiency, d.Efficiency()), b.sensitivity(), result.Fig(figure.DriverEfficiencyBandwidth, d.EfficiencyBandwidth()),
	} {
		rows.Row(result.Plain(c.Fig.Name), c, result.Word("derived"))
	}
	return result.Table{Shown: result.At(result.People), Title: result.Plain("DRIVER"), Columns: []result.Column{value, headed(from, "from")}, Rows: rows.Rows()}
}

func (b boxParts) sensitivity() result.Cell {
	d := &b.Setup.Driver
	return result.Fig(figure.DriverSensitivity, d.Sensitivity(math.Sqrt(d.Re.Value())))
}

func (b boxParts) parameterRows() []result.Row {
	d := &b.Setup.Driver
	var out []result.Row
	for _, p := range parameters {
		x := p.of(&d.Parameters)
		if !numeric.Given(x) {
			continue
		}
		from := "given"
		if slices.Contains(d.Derived, p.key) {
			from = "derived"
		}
		out = append(out, result.Row{Key: p.figure.Leaf(), Label: result.Plain(p.figure.Name + ", " + p.key),
			Cells: []result.Cell{result.Fig(p.figure, x), result.Word(from)}})
	}
	return out
}

// driverData is the same for programs, with the values that contradict each other.
func (b boxParts) driverData() result.Section {
	contradictions := result.Table{Shown: result.At(result.Data), Key: "contradictions", As: result.Records, Columns: []result.Column{
		{Key: "key"}, {Fig: figure.DriverContradicted}, {Fig: figure.DriverPredicted}, {Key: "keys"}}}
	var rows result.List
	for _, c := range b.Setup.Driver.Contradictions {
		rows.Add(result.Row{Cells: []result.Cell{result.Word(c.Key), result.Fig(figure.DriverContradicted, c.Value),
			result.Fig(figure.DriverPredicted, c.Predicted), result.Words(c.Keys)}})
	}
	contradictions.Rows = rows.Rows()
	return group("driver",
		result.Table{Shown: result.At(result.Data), Columns: []result.Column{value, from}, Rows: result.Rows(b.parameterRows()...)},
		facts(result.Fig(figure.DriverEfficiency, b.Setup.Driver.Efficiency()), b.sensitivity()), contradictions)
}
