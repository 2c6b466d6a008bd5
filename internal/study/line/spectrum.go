package line

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/quantity"
)

// Spectrum is the frequencies at which a view is computed: tones, or bands over
// which the energy is averaged.
type Spectrum struct {
	Hz    []float64    // tones, or exact middles of the bands
	Bands []field.Band // nil: tones
	each  int          // tones averaged in each band
	// moving is true where a level still moves at the most tones that are taken.
	moving bool
}

// Limits of a list of frequencies.
const (
	lowestHz        = 10
	highestHz       = 40e3
	MostFrequencies = 2000
)

// bandNames are the widths of bands that a spectrum may be given by.
var bandNames = []struct {
	name string
	n    int
}{{"octaves", 1}, {"thirds", 3}, {"sixths", 6}, {"twelfths", 12}, {"twentyfourths", 24}}

// tonesPerOctave is how finely bands are averaged at least, see Study.settle.
const tonesPerOctave = 24

// ParseSpectrum reads "octaves", "thirds", "sixths" or "twelfths", each with a
// range where wanted ("thirds:100Hz:4kHz"), or a list such as "250Hz,1kHz".
// Middles of bands are those of IEC 61260-1 (octaves and thirds nominally ISO
// 266). average asks for band averages in place of tones at the middles.
func ParseSpectrum(text string, average bool) (Spectrum, error) {
	name, rest, ranged := strings.Cut(text, ":")
	for _, b := range bandNames {
		if strings.EqualFold(strings.TrimSpace(name), b.name) {
			low, high := 63.0, 16e3
			if ranged {
				var err error
				if low, high, err = parseRange(rest); err != nil {
					return Spectrum{}, err
				}
			}
			return NewSpectrum(b.n, low, high, average)
		}
	}
	if average {
		return Spectrum{}, fmt.Errorf("%q is a list of tones: band averages need octaves, thirds, sixths or twelfths", text)
	}
	return parseTones(text)
}

func parseRange(text string) (low, high float64, err error) {
	a, b, ok := strings.Cut(text, ":")
	if !ok {
		return 0, 0, fmt.Errorf("%q: two frequencies are needed, such as thirds:100Hz:4kHz", text)
	}
	if low, err = quantity.Parse(a, quantity.Frequency); err != nil {
		return 0, 0, err
	}
	if high, err = quantity.Parse(b, quantity.Frequency); err != nil {
		return 0, 0, err
	}
	if !(low >= lowestHz && high <= highestHz && low <= high) {
		return 0, 0, fmt.Errorf("%.6g to %.6g Hz: a rising range within 10 Hz to 40 kHz is needed", low, high)
	}
	return low, high, nil
}

func parseTones(text string) (Spectrum, error) {
	var s Spectrum
	for _, part := range strings.Split(text, ",") {
		f, err := quantity.Parse(part, quantity.Frequency)
		if err != nil {
			return s, fmt.Errorf("%w (or octaves, thirds, sixths, twelfths)", err)
		}
		if f < lowestHz || f > highestHz {
			return s, fmt.Errorf("%.6g Hz: between 10 Hz and 40 kHz is needed", f)
		}
		s.Hz = append(s.Hz, f)
	}
	if len(s.Hz) > MostFrequencies {
		return s, fmt.Errorf("%d frequencies: at most %d are possible", len(s.Hz), MostFrequencies)
	}
	slices.Sort(s.Hz)
	s.Hz = slices.Compact(s.Hz)
	return s, nil
}

// NewSpectrum returns the 1/n-octave middles from low to high Hz.
func NewSpectrum(n int, low, high float64, average bool) (Spectrum, error) {
	bands, err := field.Bands(n, low, high)
	if err != nil {
		return Spectrum{}, err
	}
	if len(bands) == 0 {
		return Spectrum{}, fmt.Errorf("no 1/%d-octave band has its middle between %.6g and %.6g Hz", n, low, high)
	}
	var s Spectrum
	for _, b := range bands {
		s.Hz = append(s.Hz, b.Mid)
	}
	if average {
		s.Bands, s.each = bands, max(3, tonesPerOctave/n)
	}
	return s, nil
}

// tones returns every frequency that is summed.
func (s *Spectrum) tones() []float64 {
	if s.Bands == nil {
		return s.Hz
	}
	var out []float64
	for _, b := range s.Bands {
		out = append(out, b.Tones(s.each)...)
	}
	return out
}

// average turns levels at the tones into levels at the frequencies.
func (s *Spectrum) average(levels [][]float64) [][]float64 {
	if s.Bands == nil {
		return levels
	}
	return field.BandAverage(levels, s.each)
}

// perBand is the number of tones in one row of levels.
func (s *Spectrum) perBand() int { return max(s.each, 1) }

// Words says what the spectrum is, for captions.
func (s *Spectrum) Words() string {
	if s.Bands == nil {
		return "tones"
	}
	n := int(math.Round(0.3 * math.Ln10 / math.Log(s.Bands[0].High/s.Bands[0].Low)))
	if n == 1 {
		return fmt.Sprintf("octave-band averages of %d tones", s.each)
	}
	return fmt.Sprintf("1/%d-octave-band averages of %d tones", n, s.each)
}

// Pick returns the frequencies of s nearest to the wanted ones, as indices, each
// once.
func (s *Spectrum) Pick(wanted ...float64) []int {
	var out []int
	for _, w := range wanted {
		best := 0
		for i, f := range s.Hz {
			if math.Abs(math.Log(f/w)) < math.Abs(math.Log(s.Hz[best]/w)) {
				best = i
			}
		}
		if !slices.Contains(out, best) {
			out = append(out, best)
		}
	}
	slices.Sort(out)
	return out
}
