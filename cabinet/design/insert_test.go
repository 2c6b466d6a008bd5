package design

import (
	"testing"

	"gapline/internal/optional"
	"gapline/internal/reftable"
)

// Table cavity_slots: Helmholtz resonance of a cavity with n equal slots. Its
// lumped value is the chamber corner; its distributed one is a few per cent
// lower, which is the bias of the rule.
func TestChamberCornerAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "cavity_slots") {
		i := Insert{
			Mouths:        int(r.Get("n")),
			MouthHeight:   optional.Of(r.Get("h_m")),
			MouthWidth:    optional.Of(r.Get("w_m")),
			SlotDepth:     optional.Of(r.Get("t_m")),
			ChamberVolume: optional.Of(r.Get("V_m3")),
		}
		c := r.Get("c_m_s")
		got := i.ChamberCorner(1, c)
		reftable.Near(t, r.Name, got, r.Get("f_H_Hz"), 1e-9)
		reftable.Near(t, r.Name+" distributed", got, r.Get("f_dist_Hz"), 0.08)
		i.ChamberVolume = optional.Of(i.ChamberFor(1, 2*got, c))
		reftable.Near(t, r.Name+" inverse", i.ChamberCorner(1, c), 2*got, 1e-12)
	}
}
