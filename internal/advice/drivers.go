package advice

import (
	"gapline/driver"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

// Contradictions says which parameters of a ranked driver do not fit each other.
func Contradictions(list []driver.Contradiction) []result.Text {
	var out []result.Text
	for _, c := range list {
		out = append(out, contradiction(c, ""))
	}
	return out
}

// RankFindings are the contradictions of the drivers ranked, each behind its file's
// name, and cautions.
func RankFindings(r *box.Ranking) []result.Finding {
	var l list
	for i := range r.Ranked {
		c := &r.Ranked[i]
		for _, t := range Contradictions(c.Contradictions) {
			l.add(result.Contradiction, "woofer", "%s: %s", c.File, t)
		}
	}
	if len(r.Ranked) > 0 {
		l.out = append(l.out, RankCautions()...)
	}
	return l.out
}

// RankCautions stand under every ranking of drivers.
func RankCautions() []result.Finding {
	var l list
	l.add(result.Caution, "max_spl_db", LoudnessCaution)
	l.add(result.Caution, "woofer.power", AmplifierCaution)
	return l.out
}
