package waveguide

import (
	"errors"
	"math"
	"math/cmplx"

	"gapline/internal/air"
	"gapline/internal/optional"
)

// TubeTransmission is the share of the power of a plane wave, coming down a tube
// of the throat's area, that enters a throat of impedance z (divided by ρc/S):
//
//	τ = 1 - |(z-1)/(z+1)|² = 4 Re z/|z+1|²
//
// It idealises a compression driver measured on a plane-wave tube.
func TubeTransmission(z complex128) float64 {
	d := cmplx.Abs(z + 1)
	return 4 * real(z) / (d * d)
}

// CompressionDriver is a driver whose diaphragm works through a front chamber
// into a throat, by its Thiele-Small-like parameters.
type CompressionDriver struct {
	Re          optional.Float // voice-coil resistance, Ω
	Le          optional.Float // voice-coil inductance, H; default 0
	Bl          optional.Float // force factor, N/A
	Mms         optional.Float // moving mass without air load, kg
	Fs          optional.Float // resonance of mass and suspension alone, Hz
	Qms         optional.Float // mechanical Q of that resonance; default no loss
	Sd          optional.Float // diaphragm area, m²
	FrontVolume optional.Float // air between diaphragm and throat, m³; default 0
	RearVolume  optional.Float // air behind the diaphragm, m³; default unlimited
}

func (d CompressionDriver) check() error {
	var p problems
	need := func(what string, x float64) {
		p.addf(!(x > 0) || math.IsInf(x, 0), "compression driver: %s must be given and more than 0", what)
	}
	need("Re", d.Re.Value())
	need("Bl", d.Bl.Value())
	need("Mms", d.Mms.Value())
	need("Fs", d.Fs.Value())
	need("Sd", d.Sd.Value())
	p.addf(d.Le.Value() < 0, "compression driver: Le must be 0 or more")
	p.addf(d.FrontVolume.Value() < 0, "compression driver: FrontVolume must be 0 or more")
	p.addf(d.Qms.Value() <= 0, "compression driver: Qms must be more than 0")
	p.addf(d.RearVolume.Value() <= 0, "compression driver: RearVolume must be more than 0")
	return errors.Join(p...)
}

// Drive is what a compression driver does on a horn at one frequency.
type Drive struct {
	Impedance  complex128 // electrical input impedance, Ω
	Power      float64    // acoustic power into the throat, W
	Efficiency float64    // that power over the electrical power taken, 0 to 1
	Excursion  float64    // peak displacement of the diaphragm, m
}

// On returns what the driver does at the given r.m.s. voltage in V on a throat of
// the area in m² whose impedances z (divided by ρc/S) at the frequencies f in Hz
// are known. The circuit: coil, moving system and rear chamber in series, front
// chamber across the throat.
func (d CompressionDriver) On(f []float64, z []complex128, throatArea, volts float64, a air.Air) ([]Drive, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	if len(f) != len(z) {
		panic("waveguide: frequencies and impedances differ in number")
	}
	out := make([]Drive, len(f))
	for i := range f {
		out[i] = d.at(2*math.Pi*f[i], z[i]*complex(a.Impedance()/throatArea, 0), volts, a)
	}
	return out, nil
}

// at solves the circuit at the angular frequency w for the acoustic throat
// impedance za in Pa·s/m³.
func (d CompressionDriver) at(w float64, za complex128, volts float64, a air.Air) Drive {
	jw := complex(0, w)
	stiff := a.Density * a.SoundSpeed * a.SoundSpeed // ρc², Pa
	load := za / (1 + jw*complex(d.FrontVolume.Or(0)/stiff, 0)*za)
	acoustic := load
	if d.RearVolume.Given() {
		acoustic += complex(stiff/d.RearVolume.Value(), 0) / jw
	}
	ws := 2 * math.Pi * d.Fs.Value()
	loss := 0.0
	if d.Qms.Given() {
		loss = ws * d.Mms.Value() / d.Qms.Value()
	}
	mech := complex(loss, 0) + jw*complex(d.Mms.Value(), 0) + complex(ws*ws*d.Mms.Value(), 0)/jw + complex(d.Sd.Value()*d.Sd.Value(), 0)*acoustic
	elec := complex(d.Re.Value(), 0) + jw*complex(d.Le.Or(0), 0) + complex(d.Bl.Value()*d.Bl.Value(), 0)/mech
	current := complex(volts, 0) / elec
	velocity := complex(d.Bl.Value(), 0) * current / mech
	flow := velocity * complex(d.Sd.Value(), 0) * load / za // through the throat
	u, i := cmplx.Abs(flow), cmplx.Abs(current)
	power := u * u * real(za)
	return Drive{
		Impedance:  elec,
		Power:      power,
		Efficiency: power / (i * i * real(elec)),
		Excursion:  math.Sqrt2 * cmplx.Abs(velocity) / w,
	}
}
