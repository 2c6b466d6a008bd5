package field

import (
	"fmt"
	"math"
)

// Band is one frequency band; exact edges and middle, Hz.
type Band struct{ Low, Mid, High float64 }

// bandRatio is the base-ten octave of IEC 61260-1:2014, 10^{3/10}.
var bandRatio = math.Pow(10, 0.3)

// Bands returns the 1/n-octave bands of IEC 61260-1:2014 (base ten, 1 kHz is a
// middle for odd n and an edge for even n) whose middles lie from low to high Hz
// by their nominal place: half a band's slack lets 20 Hz mean the 19.95 Hz band.
func Bands(n int, low, high float64) ([]Band, error) {
	if n < 1 || n > 48 {
		return nil, fmt.Errorf("bands of 1/%d octave: need 1/1 to 1/48", n)
	}
	if !(low > 0 && high >= low && high <= 1e6) {
		return nil, fmt.Errorf("bands from %v to %v Hz: need 0 < from ≤ to ≤ 1 MHz", low, high)
	}
	shift := 0.0
	if n%2 == 0 {
		shift = 0.5
	}
	index := func(f float64) float64 {
		return float64(n)*math.Log(f/1000)/math.Log(bandRatio) - shift
	}
	// Nominal frequencies (ISO 266) lie within 0.1 of a third-octave step of the
	// exact ones.
	slack := 0.1 * float64(n) / 3
	slack = min(slack, 0.49)
	var out []Band
	for x := math.Ceil(index(low) - slack); x <= index(high)+slack; x++ {
		mid := 1000 * math.Pow(bandRatio, (x+shift)/float64(n))
		half := math.Pow(bandRatio, 1/(2*float64(n)))
		out = append(out, Band{mid / half, mid, mid * half})
	}
	return out, nil
}

// Tones returns m frequencies evenly spread in log frequency inside the band;
// for odd m the middle is one of them.
func (b Band) Tones(m int) []float64 {
	out := make([]float64, m)
	for i := range out {
		out[i] = b.Low * math.Pow(b.High/b.Low, (float64(i)+0.5)/float64(m))
	}
	return out
}

// bandTones returns the tones of all bands in one list, m for each.
func bandTones(bands []Band, m int) []float64 {
	var out []float64
	for _, b := range bands {
		out = append(out, b.Tones(m)...)
	}
	return out
}

// BandAverage returns the energy mean of levels in dB over each run of m rows,
// [frequency][place] to [band][place]; the rows are those of Band.Tones.
func BandAverage(levels [][]float64, m int) [][]float64 {
	if m < 1 || len(levels)%m != 0 {
		panic("field: rows are not a multiple of the tones per band")
	}
	out := make([][]float64, len(levels)/m)
	for b := range out {
		out[b] = make([]float64, len(levels[b*m]))
		for i := range out[b] {
			sum := 0.0
			for _, row := range levels[b*m : b*m+m] {
				sum += math.Pow(10, row[i]/10)
			}
			out[b][i] = 10 * math.Log10(sum/float64(m))
		}
	}
	return out
}
