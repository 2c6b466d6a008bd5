package box

import (
	"context"
	"errors"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Sweep is a measured impedance sweep and the name of its file.
type Sweep struct {
	File      string
	Impedance driver.ImpedanceSweep
}

// FitOptions say which sweeps to fit and how. NaN means not given.
type FitOptions struct {
	Sweep       Sweep
	Second      *Sweep  // nil: none
	AddedMass   float64 // on the cone in the second sweep, kg
	KnownVolume float64 // of the closed box in the second sweep, m³
	Inductor    Inductor
	Re          optional.Float // Ω, held
	From, To    optional.Float // Hz, band of the points used
}

// Fitted is one sweep with the model fitted to it.
type Fitted struct {
	File     string
	Sweep    driver.ImpedanceSweep
	Fit      *driver.ImpedanceFit
	Inductor Inductor       // the model taken
	From, To optional.Float // Hz, the band asked for
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

// ErrNoArea says that a second sweep is given and no piston area.
var ErrNoArea = errors.New("a second sweep needs the piston area: give --sd, or a design file with woofer.sd, effective_diameter or size")

// SweepError says why no model fits a sweep.
type SweepError struct {
	File string
	Err  error
}

// Error returns the file and the reason.
func (e *SweepError) Error() string { return e.File + ": " + e.Err.Error() }

// Unwrap returns the reason.
func (e *SweepError) Unwrap() error { return e.Err }

// RunFit fits one or two impedance sweeps. The design gives the air and, for the
// second sweep, the piston area. The error is ErrNoArea, of type *SweepError, or says
// that ctx ended.
func RunFit(ctx context.Context, d *design.Design, o FitOptions) (*Fit, error) {
	f := &Fit{Design: d, Air: air.Of(d.Air), Sd: d.Woofer.PistonArea()}
	if o.Second != nil && !numeric.Given(f.Sd) {
		return nil, ErrNoArea
	}
	var err error
	if f.First, err = fitSweep(ctx, o.Sweep, o); err != nil || o.Second == nil {
		return f, err
	}
	second, err := fitSweep(ctx, *o.Second, o)
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
		return nil, &SweepError{o.Second.File, err}
	}
	f.Vas = &vas
	return f, nil
}

// fitSweep fits one sweep.
func fitSweep(ctx context.Context, s Sweep, o FitOptions) (Fitted, error) {
	f := Fitted{File: s.File, Sweep: s.Impedance, From: o.From, To: o.To}
	var err error
	f.Fit, err = driver.FitImpedance(ctx, f.Sweep, driver.FitOptions{Inductor: o.Inductor.model(), Re: o.Re, From: o.From, To: o.To})
	switch {
	case ctx.Err() != nil:
		return f, ctx.Err()
	case err != nil:
		return f, &SweepError{s.File, err}
	}
	f.Inductor = taken(f.Fit.Model)
	return f, nil
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

// StandInTop is the frequency in Hz up to which a lossy inductance in a driver file
// follows the fitted coil: the end of a woofer's work.
const StandInTop = 1000.0

// StandIn returns the lossy inductance of a driver file and by how much |Z| is off with
// it between half of fs and StandInTop.
func (x *Fitted) StandIn() (le, exponent, off float64) {
	return x.Fit.StandIn(x.Fit.Fs.Value/2, StandInTop)
}
