package outside

import (
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// finitePiston is the diameter of insertBox's cone, m.
const finitePiston = 0.13

// insertBox is one cone behind a plate with two mouths, one above the other, in the front
// of a small closed cabinet: that of testdata/reference/insert_finite_elements.
func insertBox() *design.Design {
	d := design.New()
	d.Cabinet.Height, d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.23), optional.Of(0.18), optional.Of(0.1)
	d.Woofer.Size, d.Woofer.EffectiveDiameter = optional.Of(0.15), optional.Of(finitePiston)
	d.Insert = design.Insert{
		Mouths: 2, Spacing: optional.Of(0.11), MouthWidth: optional.Of(0.05), MouthHeight: optional.Of(0.08),
		SlotDepth: optional.Of(0.012), ChamberVolume: optional.Of(0.1352 * 0.19 * 0.015),
	}
	return &d
}

// read is a quantity of the table at frequency i: for a cone that moves with 1 m/s.
func (r *Result) read(t *testing.T, i int, quantity string) complex128 {
	t.Helper()
	flow := r.Flow[i][0] / complex(math.Pi/4*finitePiston*finitePiston, 0)
	upright := map[string]int{"upright_0": 0, "upright_30": 30, "upright_60": 60, "upright_90": 90, "upright_180": 180}
	level := map[string]int{"level_30": 30, "level_60": 60, "level_90": 90}
	if a, ok := upright[quantity]; ok {
		return r.Vertical[i][ahead+a] / flow
	}
	if a, ok := level[quantity]; ok {
		return r.Horizontal[i][ahead+a] / flow
	}
	switch quantity {
	case "load":
		return r.Load[i][0][0]
	case "chamber_out":
		return r.Out[i] / r.Cones[i]
	case "mouths":
		sum := complex128(0)
		for _, u := range r.Mouths[i] {
			sum += u
		}
		return sum / r.Cones[i]
	}
	t.Fatalf("quantity %q", quantity)
	return 0
}

// apart is the difference of two values in dB and in degrees.
func apart(a, b complex128) (db, degrees float64) {
	return 20 * math.Log10(cmplx.Abs(a/b)), cmplx.Phase(a/b) * 180 / math.Pi
}

// againstFinite compares a solved box with the table: no quantity may differ by more than so
// many dB and degrees.
func againstFinite(t *testing.T, perWave, mostDB, mostDegrees float64) {
	t.Helper()
	rows := reftable.Read(t, "insert_finite_elements")
	var frequencies []float64
	for _, row := range rows {
		if f := row.Get("frequency_hz"); len(frequencies) == 0 || f > frequencies[len(frequencies)-1] {
			frequencies = append(frequencies, f)
		}
	}
	r := solve(t, insertBox(), Task{Frequencies: frequencies, PerWave: perWave})
	worst := map[float64][2]float64{}
	for _, row := range rows {
		f, quantity := row.Get("frequency_hz"), row.Text("quantity")
		got, want := r.read(t, slices.Index(frequencies, f), quantity), complex(row.Get("re"), row.Get("im"))
		db, degrees := apart(got, want)
		worst[f] = [2]float64{math.Max(worst[f][0], math.Abs(db)), math.Max(worst[f][1], math.Abs(degrees))}
		if !(math.Abs(db) <= mostDB) || !(math.Abs(degrees) <= mostDegrees) {
			t.Errorf("%s, %g Hz, %s: %.4g, want %.4g: %.2f dB and %.2f° apart", row.Name, f, quantity, got, want, db, degrees)
		}
	}
	for i, f := range frequencies {
		t.Logf("%g Hz, %d unknowns: up to %.2f dB and %.2f°", f, r.Unknowns[i], worst[f][0], worst[f][1])
	}
}

// An insert's chamber, plate and mouths in a small box against finite elements in space, an
// independent method: load on the cone, flow out of the chamber and through the mouths, far
// field all round.
func TestInsertAgainstFiniteElements(t *testing.T) { againstFinite(t, 0, 0.3, 2) }
