package box

import (
	"context"
	"errors"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/quantity"
)

// FitOptions say which sweeps to fit and how. NaN means not given.
type FitOptions struct {
	Sweep, Second string  // files; Second may be empty
	AddedMass     float64 // on the cone in the second sweep, kg
	KnownVolume   float64 // of the closed box in the second sweep, m³
	Inductor      string  // one of Inductors
}

// Inductors lists the models of the voice coil's inductance; auto takes the
// first of them that the sweep determines.
var Inductors = []string{"auto", "lossy", "plain", "none"}

// inductorModels are the models behind the words, the richest first.
var inductorModels = []struct {
	name  string
	model driver.InductorModel
}{{"lossy", driver.LossyInductor}, {"plain", driver.PlainInductor}, {"none", driver.NoInductor}}

// Fitted is one sweep with the model fitted to it.
type Fitted struct {
	File     string
	Sweep    driver.ImpedanceSweep
	Fit      *driver.ImpedanceFit
	Inductor string // the model taken
}

// Fit is what the sweeps say of the driver, SI.
type Fit struct {
	Design *design.Design
	Air    air.Air
	First  Fitted
	Second *Fitted             // nil without a second sweep
	Vas    *driver.SecondSweep // what the second sweep adds
	Sd     float64             // piston area taken for it, m²
	Method string              // of the second sweep, in words
}

// RunFit fits one or two impedance sweeps. The design gives the air and, for the
// second sweep, the piston area. Faults of the sweeps are designfile.Problems
// with file and line.
func RunFit(ctx context.Context, d *design.Design, o FitOptions) (*Fit, error) {
	f := &Fit{Design: d, Air: air.Of(d.Air), Sd: d.Woofer.PistonArea()}
	var err error
	if f.First, err = fitFile(ctx, o.Sweep, o.Inductor); err != nil {
		return nil, err
	}
	if o.Second == "" {
		return f, nil
	}
	if !numeric.Given(f.Sd) {
		return nil, errors.New("a second sweep needs the piston area: give --sd, or a design file with woofer.sd, effective_diameter or size")
	}
	second, err := fitFile(ctx, o.Second, o.Inductor)
	if err != nil {
		return nil, err
	}
	f.Second = &second
	var vas driver.SecondSweep
	if numeric.Given(o.AddedMass) {
		f.Method = "added mass"
		vas, err = driver.VasByAddedMass(f.First.Fit, second.Fit, o.AddedMass, f.Sd, f.Air)
	} else {
		f.Method = "known volume"
		vas, err = driver.VasByKnownVolume(f.First.Fit, second.Fit, o.KnownVolume, f.Sd, f.Air)
	}
	if err != nil {
		return nil, designfile.Problems{{Where: o.Second, Text: err.Error()}}
	}
	f.Vas = &vas
	return f, nil
}

// fitFile reads and fits one sweep.
func fitFile(ctx context.Context, name, inductor string) (Fitted, error) {
	f := Fitted{File: cleantext.Line(name)}
	file, err := openfile.Open(ctx, name, "an impedance sweep")
	if err != nil {
		return f, designfile.Problems{{Where: name, Text: err.Error()}}
	}
	defer file.Close()
	if f.Sweep, err = driver.ReadImpedance(file); err != nil {
		problem := designfile.Problem{Where: name, Text: err.Error()}
		var at *driver.SweepError
		if errors.As(err, &at) {
			problem.Line, problem.Text = at.Line, at.Text
		}
		return f, designfile.Problems{problem}
	}
	for _, m := range inductorModels {
		if inductor != "auto" && inductor != m.name {
			continue
		}
		f.Inductor = m.name
		f.Fit, err = driver.FitImpedance(ctx, f.Sweep, m.model)
		if err == nil && (inductor != "auto" || m.model == driver.NoInductor || determined(f.Fit)) {
			return f, nil
		}
	}
	return f, designfile.Problems{{Where: name, Text: err.Error()}}
}

// determined reports whether the sweep fixes the inductance: its value within a
// factor of two, its exponent within a quarter.
func determined(f *driver.ImpedanceFit) bool {
	return f.Le.High < 4*f.Le.Low && f.LeExponent.High-f.LeExponent.Low < 0.5
}

// Estimate is one fitted parameter, with its key under [woofer].
type Estimate struct {
	Key string
	driver.Estimate
}

// Estimates lists what the sweeps determine, in the order of a data sheet.
func (f *Fit) Estimates() []Estimate {
	x := f.First.Fit
	list := []Estimate{{"fs", x.Fs}, {"qes", x.Qes}, {"qms", x.Qms}, {"qts", x.Qts}, {"re", x.Re}}
	if numeric.Given(x.Le.Value) {
		list = append(list, Estimate{"le", x.Le})
		if x.LeExponent.Value != 1 {
			list = append(list, Estimate{"le_exponent", x.LeExponent})
		}
	}
	if v := f.Vas; v != nil {
		list = append(list, Estimate{"vas", v.Vas}, Estimate{"mms", v.Mms}, Estimate{"cms", v.Cms}, Estimate{"bl", v.Bl})
	}
	return list
}

// ParameterKind returns what a driver parameter measures.
func ParameterKind(key string) quantity.Kind {
	if k := designfile.FindKey("woofer." + key); k != nil {
		return k.Kind
	}
	return quantity.Number
}
