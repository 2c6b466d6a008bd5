package advice

import (
	"gapline/internal/result"
	"gapline/internal/schema"
)

// Refits are the findings on lists that were made to fit another number of boxes.
func Refits(refits []schema.Refit) []result.Finding {
	var out []result.Finding
	for i := range refits {
		out = append(out, result.Finding{Severity: result.Note, Key: refits[i].Key.Path, Text: refit(&refits[i])})
	}
	return out
}

// refit says how a list came to fit.
func refit(r *schema.Refit) result.Text {
	boxes := result.Say("%s of %s entries was made to fit line.boxes = %s: ", r.Key.Path, result.Count(r.Had), result.Count(r.Boxes))
	switch now := len(r.List); {
	case now == 0:
		return boxes.And(result.Plain("none is left."))
	case now < r.Had:
		return boxes.And(result.Say("the upper %s are kept.", result.Count(now)))
	default:
		return boxes.And(result.Say("all are kept, and the last, %s, stands %s times more.", result.Num(r.List[now-1], r.Key.Kind), result.Count(now-r.Had)))
	}
}
