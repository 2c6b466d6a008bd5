package driver

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

// tableAir reads the medium of a reference row.
func tableAir(r reftable.Row) air.Air {
	return air.Air{SoundSpeed: r.Get("c"), Density: r.Get("rho")}
}

func TestDeriveAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_driver") {
		p := Parameters{}
		p.Sd, p.Mms, p.Cms = optional.Of(r.Get("Sd_m2")), optional.Of(r.Get("Mms_kg")), optional.Of(r.Get("Cms_m_N"))
		p.Bl, p.Re, p.Rms = optional.Of(r.Get("Bl_Tm")), optional.Of(r.Get("Re_ohm")), optional.Of(r.Get("Rms_kg_s"))
		c, err := p.Derive(tableAir(r))
		if err != nil {
			t.Fatal(err)
		}
		for column, got := range map[string]float64{
			"fs_Hz": c.Fs.Value(), "Qes": c.Qes.Value(), "Qms": c.Qms.Value(), "Qts": c.Qts.Value(), "Vas_m3": c.Vas.Value(),
			"eta0": c.Efficiency(), "EBP_Hz": c.EfficiencyBandwidth(),
			"spl_1W1m_half_dB":  c.Sensitivity(math.Sqrt(c.Re.Value())),
			"spl_2p83V_half_dB": c.Sensitivity(2.83),
		} {
			reftable.Near(t, r.Name+" "+column, got, r.Get(column), closedForm)
		}
		if len(c.Contradictions) > 0 {
			t.Errorf("%s: %v", r.Name, c.Err())
		}
	}
}

func TestEfficiencyAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "box_efficiency") {
		c := Complete{Air: tableAir(r), Parameters: Parameters{Fs: optional.Of(r.Get("fs_Hz")), Qes: optional.Of(r.Get("Qes")), Vas: optional.Of(r.Get("Vas_m3")), Re: optional.Of(1)}}
		reftable.Near(t, r.Name, c.Efficiency(), r.Get("eta0"), closedForm)
		reftable.Near(t, r.Name, c.Sensitivity(1), r.Get("spl_1W1m_half_dB"), closedForm)
	}
}

// genComplete draws a plausible driver by its physical data.
func genComplete(t *rapid.T) Complete {
	draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	p := Parameters{}
	p.Sd, p.Mms, p.Cms = optional.Of(draw("sd", 0.005, 0.15)), optional.Of(draw("mms", 0.005, 0.3)), optional.Of(draw("cms", 5e-5, 2e-3))
	p.Bl, p.Re, p.Rms = optional.Of(draw("bl", 3, 30)), optional.Of(draw("re", 2, 12)), optional.Of(draw("rms", 0.3, 8))
	c, err := p.Derive(air.Of(air.Standard))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Any subset of a consistent driver's parameters either completes to the same
// driver, or is refused; and it is refused exactly when the relations, taken
// as equations in the logarithms, leave a direction free.
func TestDeriveFromAnySubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := genComplete(t)
		subset, known := Parameters{}, uint32(0)
		to := subset.related()
		for k, f := range whole.related() {
			if rapid.Bool().Draw(t, f.key) {
				*to[k].value = *f.value
				known |= 1 << k
			}
		}
		got, err := subset.Derive(whole.Air)
		if sufficient := freeDirections(whole, known) == 0; (err == nil) != sufficient {
			t.Fatalf("keys %v: sufficient %v, but err = %v", names(known), sufficient, err)
		}
		if err != nil {
			return
		}
		want := whole.related()
		for k, f := range got.related() {
			if math.Abs(f.value.Value()/want[k].value.Value()-1) > 1e-6 {
				t.Fatalf("from %v: %s = %g, want %g", names(known), f.key, f.value.Value(), want[k].value.Value())
			}
		}
	})
}

// freeDirections returns how many directions the canonical relations leave free
// for the unknown parameters: unknowns minus the rank of the Jacobian in the
// logarithms, by Gaussian elimination.
func freeDirections(c Complete, known uint32) int {
	rows := [][]float64{}
	for _, r := range canonical(c.Air) {
		row := make([]float64, relatedCount)
		for i, k := range r.keys {
			if r.kind == product {
				row[k] = r.exponents[i]
			}
		}
		if r.kind == sum { // 1 = Qts/Qes + Qts/Qms
			row[keyQts], row[keyQes], row[keyQms] = 1, -c.Qts.Value()/c.Qes.Value(), -c.Qts.Value()/c.Qms.Value()
		}
		rows = append(rows, row)
	}
	unknown, rank := 0, 0
	for k := range relatedCount {
		if known&(1<<k) != 0 {
			continue
		}
		unknown++
		pivot := -1
		for i := rank; i < len(rows); i++ {
			if math.Abs(rows[i][k]) > 1e-9 && (pivot < 0 || math.Abs(rows[i][k]) > math.Abs(rows[pivot][k])) {
				pivot = i
			}
		}
		if pivot < 0 {
			continue
		}
		rows[rank], rows[pivot] = rows[pivot], rows[rank]
		for i := rank + 1; i < len(rows); i++ {
			q := rows[i][k] / rows[rank][k]
			for j := range rows[i] {
				rows[i][j] -= q * rows[rank][j]
			}
		}
		rank++
	}
	return unknown - rank
}

func TestContradictionNamesTheKeys(t *testing.T) {
	p := Parameters{}
	p.Fs, p.Qes, p.Qms, p.Vas, p.Sd, p.Re = optional.Of(50), optional.Of(0.35), optional.Of(6), optional.Of(0.09), optional.Of(0.053), optional.Of(5.3)
	p.Qts = optional.Of(0.42) // true value 0.331
	c, err := p.Derive(air.Of(air.Standard))
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Contradictions) != 1 || !slices.Equal(c.Contradictions[0].Keys, []string{"qes", "qms", "qts"}) {
		t.Errorf("contradictions = %v", c.Contradictions)
	}
	if c.Err() == nil {
		t.Error("Err() = nil")
	}
	p.Qts = optional.Of(0.34) // 3 % off: rounding, not a contradiction
	if c, _ := p.Derive(air.Of(air.Standard)); c.Err() != nil {
		t.Errorf("a 3 %% difference was flagged: %v", c.Err())
	}
}

func TestInsufficientSetSaysWhatIsMissing(t *testing.T) {
	p := Parameters{}
	p.Fs, p.Qes, p.Qms, p.Vas, p.Size = optional.Of(50), optional.Of(0.35), optional.Of(6), optional.Of(0.09), optional.Of(0.25)
	_, err := p.Derive(air.Of(air.Standard))
	var missing *InsufficientError
	if !errors.As(err, &missing) || !slices.ContainsFunc(missing.Options, func(o []string) bool { return slices.Equal(o, []string{"re"}) }) {
		t.Errorf("err = %v, want re among the options", err)
	}
	p.Re = optional.Of(5.3)
	c, err := p.Derive(air.Of(air.Standard))
	if err != nil || len(c.Notes) == 0 || !strings.Contains(c.Notes[0], "0.82") {
		t.Errorf("notes = %v, err = %v; want the size rule named", c.Notes, err)
	}
	reftable.Near(t, "effective diameter", c.EffectiveDiameter.Value(), 0.82*0.25, 1e-12)
}

func TestImpossibleValuesAreRefused(t *testing.T) {
	p := Parameters{}
	p.Fs, p.Qes = optional.Of(-40), optional.Of(0)
	_, err := p.Derive(air.Of(air.Standard))
	if err == nil || !strings.Contains(err.Error(), "fs = -40") || !strings.Contains(err.Error(), "qes = 0") {
		t.Errorf("err = %v, want both keys named", err)
	}
	p = Parameters{}
	p.Qts, p.Qms, p.Fs = optional.Of(0.6), optional.Of(0.5), optional.Of(40) // Qts must be below Qms
	if _, err := p.Derive(air.Of(air.Standard)); err == nil || !strings.Contains(err.Error(), "qms, qts") {
		t.Errorf("err = %v, want qms and qts named", err)
	}
	p = Parameters{}
	p.LeExponent = optional.Of(0.3)
	if _, err := p.Derive(air.Of(air.Standard)); err == nil {
		t.Error("exponent 0.3 accepted")
	}
}

func TestPistonRadiusOrder(t *testing.T) {
	p := Parameters{}
	if r, from := p.PistonRadius(); numeric.Given(r) || from != "" {
		t.Errorf("radius of nothing = %g from %q", r, from)
	}
	p.Size = optional.Of(0.3)
	if r, from := p.PistonRadius(); from != "size" || math.Abs(r-0.123) > 1e-12 {
		t.Errorf("from size: %g %q", r, from)
	}
	p.Sd = optional.Of(math.Pi * 0.01)
	if r, from := p.PistonRadius(); from != "sd" || math.Abs(r-0.1) > 1e-12 {
		t.Errorf("from sd: %g %q", r, from)
	}
}

// A semi-inductor has 45° of phase and grows as √f (Vanderkooy 1989).
func TestSemiInductor(t *testing.T) {
	w := 2 * math.Pi * 1000.0
	z := inductorImpedance(1e-3, 0.5, w)
	reftable.Near(t, "real part at 1 kHz", real(z), imag(z), 1e-12)
	reftable.Near(t, "magnitude at 1 kHz", math.Hypot(real(z), imag(z)), w*1e-3, 1e-12)
	reftable.Near(t, "growth over two octaves", imag(inductorImpedance(1e-3, 0.5, 4*w))/imag(z), 2, 1e-12)
}
