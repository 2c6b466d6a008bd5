// Package air gives the speed of sound, the density and the pure-tone
// absorption of moist air.
//
//	quantity            symbol  field         unit
//	temperature         T       Temperature   K
//	relative humidity   h_r     Humidity      fraction, 0 to 1
//	static pressure     p       Pressure      Pa
//	speed of sound      c       SoundSpeed    m/s
//	density             ρ       Density       kg/m³
//
// The speed of sound is the polynomial of O. Cramer, "The variation of the
// specific heat ratio and the speed of sound in air with temperature, pressure,
// humidity, and CO2 concentration", JASA 93 (1993) 2510-2516, eq. 15. It holds
// from 0 to 30 °C and 75 to 102 kPa. Outside, the moist ideal gas carries on
// from the nearest point inside, so that the curve has no step.
package air

import "math"

// Conditions is the state of the air. The zero value is not meaningful; start
// from Standard.
type Conditions struct {
	Temperature float64 // K
	Humidity    float64 // relative humidity as a fraction, 0 to 1
	Pressure    float64 // Pa
}

// Standard is the project's default: 20 °C, 50 % relative humidity,
// 101.325 kPa.
var Standard = Conditions{Temperature: 293.15, Humidity: 0.5, Pressure: 101325}

// Air is what the acoustics needs to know of the medium.
type Air struct {
	SoundSpeed float64 // c, m/s
	Density    float64 // ρ, kg/m³
}

// Impedance returns the characteristic impedance ρc in Pa·s/m.
func (a Air) Impedance() float64 { return a.SoundSpeed * a.Density }

// Of returns the sound speed and density under the given conditions.
func Of(c Conditions) Air {
	return Air{SoundSpeed: SoundSpeed(c), Density: Density(c)}
}

const (
	gasConstant = 8.314462618 // J/(mol·K), CODATA 2018
	molarDry    = 0.0289647   // kg/mol, dry air
	molarWater  = 0.01801528  // kg/mol
	carbonMole  = 0.0004      // mole fraction of CO2
	zeroCelsius = 273.15      // K
)

// Limits of Cramer's polynomial.
const (
	cramerMinT, cramerMaxT = 273.15, 303.15 // K
	cramerMinP, cramerMaxP = 75e3, 102e3    // Pa
)

// SoundSpeed returns c in m/s: Cramer 1993, eq. 15, inside its range, and the
// moist ideal gas shifted to meet it outside.
func SoundSpeed(c Conditions) float64 {
	in := c
	in.Temperature = min(max(c.Temperature, cramerMinT), cramerMaxT)
	in.Pressure = min(max(c.Pressure, cramerMinP), cramerMaxP)
	speed := cramer(in)
	if in != c {
		speed += idealGasSpeed(c) - idealGasSpeed(in)
	}
	return speed
}

// cramer evaluates the polynomial; coefficients from Cramer 1993, Table III.
func cramer(c Conditions) float64 {
	t, p := c.Temperature-zeroCelsius, c.Pressure
	xw, xc := waterFraction(c), carbonMole
	return 331.5024 + 0.603055*t - 0.000528*t*t +
		(51.471935+0.1495874*t-0.000782*t*t)*xw +
		(-1.82e-7+3.73e-8*t-2.93e-10*t*t)*p +
		(-85.20931-0.228525*t+5.91e-5*t*t)*xc -
		2.835149*xw*xw - 2.15e-13*p*p + 29.179762*xc*xc + 0.000486*xw*p*xc
}

// idealGasSpeed is √(γRT/M) of the mixture, with γ = (7+x)/(5+x) and x the
// mole fraction of water (form of D. A. Bohn, JAES 36 (1988) 223-231).
func idealGasSpeed(c Conditions) float64 {
	x := idealFraction(c)
	m := (1-x)*molarDry + x*molarWater
	return math.Sqrt((7 + x) / (5 + x) * gasConstant * c.Temperature / m)
}

// Density returns ρ in kg/m³ of the moist ideal gas, p·M/(R·T) with M the
// molar mass of the mixture.
func Density(c Conditions) float64 {
	x := idealFraction(c)
	m := (1-x)*molarDry + x*molarWater
	return c.Pressure * m / (gasConstant * c.Temperature)
}

// waterFraction is the mole fraction of water vapour in real air, h_r·f·p_sv/p,
// with the enhancement factor f that Cramer 1993 prints (the same as in
// CIPM-2007).
func waterFraction(c Conditions) float64 {
	t := c.Temperature - zeroCelsius
	enhancement := 1.00062 + 3.14e-8*c.Pressure + 5.6e-7*t*t
	return c.Humidity * enhancement * saturationCramer(c.Temperature) / c.Pressure
}

// idealFraction is the mole fraction of water vapour in ideal moist air,
// h_r·p_sv/p. Leaving out the enhancement factor moves the density by less than
// 0.01 %.
func idealFraction(c Conditions) float64 {
	return c.Humidity * saturationCIPM(c.Temperature) / c.Pressure
}

// saturationCramer is the vapour pressure in Pa with the constants that Cramer
// 1993 prints beside the polynomial.
func saturationCramer(t float64) float64 {
	return math.Exp(1.2811805e-5*t*t - 1.9509874e-2*t + 34.04926034 - 6.3536311e3/t)
}

// saturationCIPM is the vapour pressure in Pa of CIPM-2007 (A. Picard et al.,
// Metrologia 45 (2008) 149-155, eq. A1.1).
func saturationCIPM(t float64) float64 {
	return math.Exp(1.2378847e-5*t*t - 1.9121316e-2*t + 33.93711047 - 6.3431645e3/t)
}

// Absorption returns the pure-tone attenuation in dB/m at frequency f in Hz,
// ISO 9613-1:1993, eqs. 3 to 5. The standard covers 50 Hz to 10 kHz; above, the
// same formula is extrapolated.
func Absorption(c Conditions, f float64) float64 {
	const t0, t01, p0 = 293.15, 273.16, 101325
	t, p := c.Temperature/t0, c.Pressure/p0
	saturation := math.Pow(10, -6.8346*math.Pow(t01/c.Temperature, 1.261)+4.6151)
	h := 100 * c.Humidity * saturation / p // molar concentration of water, %
	oxygen := p * (24 + 4.04e4*h*(0.02+h)/(0.391+h))
	nitrogen := p / math.Sqrt(t) * (9 + 280*h*math.Exp(-4.170*(math.Cbrt(1/t)-1)))
	classical := 1.84e-11 / p * math.Sqrt(t)
	relaxation := math.Pow(t, -2.5) *
		(0.01275*math.Exp(-2239.1/c.Temperature)/(oxygen+f*f/oxygen) +
			0.1068*math.Exp(-3352/c.Temperature)/(nitrogen+f*f/nitrogen))
	return 8.686 * f * f * (classical + relaxation)
}
