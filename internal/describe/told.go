package describe

import (
	"gapline/internal/advice"
	"gapline/internal/result"
)

// severities of findings, until advice speaks in texts itself.
var severities = map[advice.Severity]result.Severity{
	advice.Miss: result.Missed, advice.Met: result.Met, advice.Advice: result.Try,
	advice.Doubt: result.Contradiction, advice.Note: result.Note, advice.Caution: result.Caution,
}

// Told turns findings in ready texts into findings of a result.
func Told(list []advice.Finding) []result.Finding {
	out := make([]result.Finding, len(list))
	for i, f := range list {
		out[i] = result.Finding{Severity: severities[f.Severity], Key: f.Key, Text: result.Plain(f.Text), Detail: f.Detail}
	}
	return out
}
