package box

import (
	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/check"
)

// MaxLevels returns the maximum level of one box of a design in dB at 1 m in half
// space at the frequencies f in Hz, without the insert, as the figure
// box.max_spl_db takes it. The error says what the design lacks.
func MaxLevels(d *design.Design, f []float64) ([]float64, error) {
	setup, err := check.BoxSetup(d)
	if err != nil {
		return nil, err
	}
	setup.Insert = nil
	c, err := driver.NewCircuit(setup)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(f))
	for i, m := range c.MaxLevel(f) {
		out[i] = m.Level
	}
	return out, nil
}
