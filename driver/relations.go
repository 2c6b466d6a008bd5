package driver

import (
	"math"

	"gapline/internal/air"
)

// Keys of the related parameters, then three hidden ones that let one-step
// propagation find every sufficient set.
const (
	keyFs = iota
	keyQes
	keyQms
	keyQts
	keyVas
	keyRe
	keySd
	keyBl
	keyMms
	keyCms
	keyRms
	keyDiameter
	relatedCount
)

const (
	keyReactance  = relatedCount + iota // W = ωs·Mms, kg/s
	keyElectrical                       // B = Bl²/Re, kg/s
	keyTotal                            // T = Rms + B, kg/s
	keyCount
)

// values holds one number per key; NaN is unknown.
type values [keyCount]float64

// relation is constant·Π v^e = 1 over its keys or, for kind sum, v₀ = v₁ + v₂
// with the exponent applied to every term.
type relation struct {
	kind      int
	constant  float64
	keys      []int
	exponents []float64
}

const (
	product = iota
	sum
)

// solve returns the value of keys[i] that satisfies r, the others being known.
// NaN or a value not above zero means that none exists.
func (r *relation) solve(v *values, i int) float64 {
	if r.kind == sum {
		return r.solveSum(v, i)
	}
	p := r.constant
	for j, k := range r.keys {
		if j != i {
			p *= math.Pow(v[k], r.exponents[j])
		}
	}
	return math.Pow(p, -1/r.exponents[i])
}

func (r *relation) solveSum(v *values, i int) float64 {
	e := r.exponents[0]
	term := func(j int) float64 { return math.Pow(v[r.keys[j]], e) }
	switch i {
	case 0:
		return math.Pow(term(1)+term(2), 1/e)
	case 1:
		return math.Pow(term(0)-term(2), 1/e)
	default:
		return math.Pow(term(0)-term(1), 1/e)
	}
}

// canonical returns the six relations of Small 1972 that a user knows. In each
// the first key is the dependent one.
func canonical(a air.Air) []relation {
	bulk := a.Density * a.SoundSpeed * a.SoundSpeed
	return []relation{
		{kind: sum, keys: []int{keyQts, keyQes, keyQms}, exponents: []float64{-1}},
		{constant: 4 * math.Pi * math.Pi, keys: []int{keyFs, keyMms, keyCms}, exponents: []float64{2, 1, 1}},
		{constant: 1 / (2 * math.Pi), keys: []int{keyQms, keyRms, keyFs, keyMms}, exponents: []float64{1, 1, -1, -1}},
		{constant: 1 / (2 * math.Pi), keys: []int{keyQes, keyBl, keyFs, keyMms, keyRe}, exponents: []float64{1, 2, -1, -1, -1}},
		{constant: 1 / bulk, keys: []int{keyVas, keySd, keyCms}, exponents: []float64{1, -2, -1}},
		{constant: 4 / math.Pi, keys: []int{keySd, keyDiameter}, exponents: []float64{1, -2}},
	}
}

// propagated returns the relations by which unknown values are found: the
// canonical ones, and their combinations through W, B and T.
func propagated(a air.Air) []relation {
	pair := func(constant float64, keys []int, exponents ...float64) relation {
		return relation{constant: constant, keys: keys, exponents: exponents}
	}
	return append(canonical(a),
		pair(2*math.Pi, []int{keyReactance, keyFs, keyMms}, -1, 1, 1),
		pair(2*math.Pi, []int{keyReactance, keyFs, keyCms}, 1, 1, 1),
		pair(1, []int{keyReactance, keyMms, keyCms}, 2, -1, 1),
		pair(1, []int{keyReactance, keyQms, keyRms}, -1, 1, 1),
		pair(1, []int{keyReactance, keyQes, keyElectrical}, -1, 1, 1),
		pair(1, []int{keyReactance, keyQts, keyTotal}, -1, 1, 1),
		pair(1, []int{keyElectrical, keyRe, keyBl}, 1, 1, -2),
		pair(1, []int{keyQms, keyRms, keyQes, keyElectrical}, 1, 1, -1, -1),
		pair(1, []int{keyQts, keyTotal, keyQes, keyElectrical}, 1, 1, -1, -1),
		pair(1, []int{keyQts, keyTotal, keyQms, keyRms}, 1, 1, -1, -1),
		relation{kind: sum, keys: []int{keyTotal, keyElectrical, keyRms}, exponents: []float64{1}},
	)
}
