package describe

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/size"
)

// The views of the sections that wave solves.
const (
	WaveBeamwidth = "beamwidth"
	WavePolar     = "polar"
	WaveMap       = "map"
	WaveFlatness  = "flatness"
	WaveMouth     = "mouth"
	WaveThroat    = "throat"
	WaveBend      = "bend"
	WaveField     = "field"
	WaveInstant   = "instant"
)

// The views of the plan section and of the fold, the usual one first.
var (
	WavePlanViews = []string{WaveBeamwidth, WavePolar, WaveMap, WaveField, WaveInstant}
	WaveFoldViews = []string{WaveFlatness, WaveMouth, WaveThroat, WaveBend, WaveField, WaveInstant}
)

// waved is a result of wave as it begins, on the screen and in JSON.
func waved(d *design.Design, s *sizing.Sizing, section result.Text, of string) *result.Result {
	r := &result.Result{Title: d.Title, Head: []result.Text{result.Say("%s; air %s", stackText(d, s), Air(d, s))}}
	r.Add(result.Prose{Shown: result.At(result.Screen), Texts: []result.Text{section}}, named("of", result.Word(of)))
	return r
}

// alone is a table of the screen with columns of its own width.
func alone(t result.Table) result.Section {
	return result.Section{Shown: result.At(result.Screen), Parts: []result.Part{t}}
}

// known are those of the figures that there is something to say about, a row each.
func known(s *sizing.Sizing, figures ...*figure.Def) []result.Row {
	var out []result.Row
	for _, f := range figures {
		if c := size.Cell(s, f); c.Given() || c.Words != "" {
			out = append(out, result.FigureRow(c))
		}
	}
	return out
}

// solution is how well a section was solved.
type solution struct {
	frequency, seconds []float64
	unknowns           []int
	change             []float64 // nil where no error was estimated
}

// data holds how large the solutions were, for programs.
func (s *solution) data() result.Section {
	most := 0
	for _, n := range s.unknowns {
		most = max(most, n)
	}
	return result.Section{Shown: result.At(result.Data), Parts: []result.Part{
		facts(result.Fig(figure.WaveUnknowns, float64(most))),
		listed(result.At(result.Data), []curve{{figure: figure.WaveFrequency, y: s.frequency}, {figure: figure.WaveSeconds, y: s.seconds}}),
	}}
}

// sizes are the unknowns of each solution, under the given key or the figure's own.
func (s *solution) sizes(key string) curve {
	return curve{key: key, figure: figure.WaveUnknownsAt, y: each(s.unknowns, func(n int) float64 { return float64(n) })}
}

// changes is the error estimate, without a value where none was made.
func (s *solution) changes() curve {
	c := curve{figure: figure.WaveChange, y: s.change, maybe: true}
	if c.y == nil {
		c.y = absent(len(s.frequency))
	}
	return c
}

// everyColumn lists curves in CSV, where a column stands whatever the run filled.
func everyColumn(curves ...curve) result.Table {
	for i := range curves {
		curves[i].maybe = false
	}
	return listed(result.At(result.Listing), curves)
}

// maxRows is about how many frequencies a table for people shows.
const maxRows = 24

// stride is the step at which n rows are shown, a power of two: four makes third
// octaves of the default series.
func stride(n int) int {
	step := 1
	for n > maxRows*step {
		step *= 2
	}
	return step
}

// notes are remarks below the tables of the screen.
func notes(list []result.Finding) result.Findings {
	return result.Findings{Shown: result.At(result.Screen), List: list}
}

// throat is the load on what drives a section, for programs.
func throat(z []complex128) result.Section {
	return result.Section{Shown: result.At(result.Data), Key: "throat", Parts: []result.Part{listed(result.At(result.Data), loads(z))}}
}

// loads are resistance and reactance over ρc.
func loads(z []complex128) []curve {
	return []curve{
		{figure: figure.WaveThroatResistance, y: each(z, func(z complex128) float64 { return real(z) })},
		{figure: figure.WaveThroatReactance, y: each(z, func(z complex128) float64 { return imag(z) })},
	}
}

// runBand is the axis of a chart over the frequencies of a run, a little wider than
// a single one.
func runBand(f []float64) result.Axis {
	low, high := f[0], f[len(f)-1]
	if low == high {
		low, high = 0.8*low, 1.25*high
	}
	return result.Axis{Scale: result.FrequencyScale, Kind: quantity.Frequency, Low: low, High: high}
}

// maxCurves is the number of frequencies that a chart over angle or height carries.
const maxCurves = 5

// shownAt returns the indices of the frequencies that a chart over angle or height
// shows: those nearest in ratio to the wanted ones, or to octaves.
func shownAt(f, wanted []float64) []int {
	if len(wanted) == 0 {
		wanted = octaves(f)
	}
	return nearest(f, wanted)
}

// octaves returns frequencies an octave apart, the highest a preferred one, so
// that as many as fit lie in the run's upper part.
func octaves(f []float64) []float64 {
	low, high := f[0], f[len(f)-1]
	var out []float64
	for v := 16e3; v >= low && len(out) < maxCurves; v /= 2 {
		if v <= high {
			out = append([]float64{v}, out...)
		}
	}
	if len(out) == 0 {
		out = []float64{math.Sqrt(low * high)}
	}
	return out
}

// nearest returns the indices of the values nearest in ratio to those wanted,
// each once.
func nearest(f, wanted []float64) []int {
	var out []int
	seen := map[int]bool{}
	for _, w := range wanted {
		best := 0
		for i := range f {
			if math.Abs(math.Log(f[i]/w)) < math.Abs(math.Log(f[best]/w)) {
				best = i
			}
		}
		if !seen[best] && len(out) < maxCurves {
			seen[best] = true
			out = append(out, best)
		}
	}
	return out
}
