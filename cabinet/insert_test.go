package cabinet

import (
	"testing"

	"gapline/internal/reftable"
)

// Table cavity_slots: Helmholtz resonance of a cavity with n equal slots. Its
// lumped value is the chamber corner; its distributed one is a few per cent
// lower, which is the bias of the rule.
func TestChamberCornerAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "cavity_slots") {
		i := Insert{
			Mouths:        int(r.Get("n")),
			MouthHeight:   r.Get("h_m"),
			MouthWidth:    r.Get("w_m"),
			SlotDepth:     r.Get("t_m"),
			ChamberVolume: r.Get("V_m3"),
		}
		c := r.Get("c_m_s")
		got := i.ChamberCorner(c)
		reftable.Near(t, r.Name, got, r.Get("f_H_Hz"), 1e-9)
		reftable.Near(t, r.Name+" distributed", got, r.Get("f_dist_Hz"), 0.08)
		i.ChamberVolume = i.ChamberFor(2*got, c)
		reftable.Near(t, r.Name+" inverse", i.ChamberCorner(c), 2*got, 1e-12)
	}
}

func TestPathSpread(t *testing.T) {
	d := New()
	d.Cabinet.Height = 0.3
	d.Woofer.EffectiveDiameter = 0.2
	d.Insert.Mouths = 2
	d.Insert.MouthHeight = 0.05
	// Mouths at ±75 mm, ±25 mm high: the cone's centre is 50 mm from the nearer
	// edge, its own edge (100 mm) faces the mouth's end exactly.
	reftable.Within(t, "spread", d.insertPaths(343).Spread, 0.050, 1e-12)
	// Mouths so high that they touch leave only the cone's edge, which they
	// face too: no spread.
	d.Insert.MouthHeight = 0.15
	reftable.Within(t, "spread of touching mouths", d.insertPaths(343).Spread, 0, 1e-12)
	// Narrow mouths leave the cone's sides: 100 mm less half the width.
	d.Insert.MouthWidth = 0.06
	reftable.Within(t, "spread of narrow mouths", d.insertPaths(343).Spread, 0.070, 1e-12)
	reftable.Near(t, "in phase", d.insertPaths(343).Quarter, 343/(4*0.070), 1e-12)
}
