package figure

import "slices"

// Spoken describes something that the program prints in words: a verdict, or a list of
// texts.
type Spoken struct {
	Key   string // as in JSON, dotted; of a list the name of the list, or of one of its fields
	Name  string
	Takes []string // the words that it can be, where they are few
	Rule  string   // how it comes about
	Terms []Term   // what it follows from
	Note  string
}

// Group returns the key without its last part.
func (s *Spoken) Group() string { return (&Def{Key: s.Key}).Group() }

// Inputs lists the keys that it follows from.
func (s *Spoken) Inputs() []string { return (&Def{Terms: s.Terms}).Inputs() }

// levelNames are the levels of the gap in keys.
var levelNames = []string{"rule", "aperture", "wave", "measured"}

// spoken lists them.
var spoken = slices.Concat([]*Spoken{
	{Key: "gap.basis", Name: "criterion of the gap as given", Takes: []string{"half-wave", "lobe"},
		Rule:  "targets.coupling: half-wave measures from the half-wave rule to the horn's pattern rule, lobe from the lobe criterion to the horn's computed pattern",
		Terms: From("targets.coupling")},
	{Key: "gap.verdict", Name: "verdict on the gap", Takes: []string{"misfit", "divided", "unknown", "missed", "met"},
		Rule: "the first that holds: misfit, stated parts cannot be built together; divided, one deciding level of trust closes the gap and another leaves it open; " +
			"unknown, a missing figure could open a closed gap, or a side is missing; missed, the gap is wider than targets.gap at all deciding levels; met, it is not at any of them",
		Terms: From("gap.by_trust.rule.verdict", "gap.by_trust.aperture.verdict", "gap.by_trust.wave.verdict", "targets.gap", "targets.trust", "misfits"),
		Note:  "The levels that have figures of their own decide, or the one that targets.trust names. size --strict exits with 3 unless it is met."},
}, levelsSpoken(), []*Spoken{
	{Key: "misfits", Name: "what cannot be built together",
		Rule: "stated parts need more room than the cabinet, the front, the fold or each other leave; the layout of every command", Terms: From("cabinet.width", "cabinet.height", "cabinet.depth"),
		Note: "It comes before all other verdicts. What rests on a default that the file does not say is a note, not a misfit."},
	{Key: "misfits.text", Name: "a misfit in a sentence", Rule: "what needs how much and what there is", Terms: From("misfits")},
	{Key: "misfits.keys", Name: "keys that a misfit is between", Rule: "those given, the one to change first first", Terms: From("misfits")},
	{Key: "misfits.fits", Name: "setting that mends a misfit",
		Rule:  "KEY=VALUE: the value nearest to the present one with which the misfit is gone, and all others that name the same key, and no other comes; applied with its links and laid out again; null where no single key does",
		Terms: From("misfits.keys")},
	{Key: "misfits.bound", Name: "side on which a mending value has room", Takes: []string{"most", "least"}, Rule: "values below (most) or above (least) mend too", Terms: From("misfits.fits")},
	{Key: "levers", Name: "changes that would close the gap",
		Rule:  "each applied with its links, laid out and sized again before it is printed; one that closes it at some levels of trust only begins with Narrows",
		Terms: From("levers.set", "levers.gap_oct.rule", "levers.gap_oct.aperture", "levers.gap_oct.wave")},
	{Key: "levers.text", Name: "a lever in a sentence", Rule: "what changes, the gap that it leaves at each level of trust, and what it costs", Terms: From("levers.set")},
	{Key: "levers.set", Name: "settings of a lever", Rule: "as --set takes them: with all of them the design has exactly the gaps of levers.gap_oct", Terms: From("gap.verdict")},
	{Key: "findings", Name: "what the figures mean", Rule: "targets judged, changes to try, limits and cautions, the verdict on the gap first", Terms: From("gap.verdict", "misfits", "levers")},
	{Key: "findings.severity", Name: "what a finding asks of the reader",
		Takes: []string{"misfit", "divided", "unknown", "miss", "met", "advice", "contradiction", "note", "caution"},
		Rule:  "divided, unknown, miss and met judge a target; advice is a change to try; a caution is about what can hurt people", Terms: From("findings")},
	{Key: "findings.key", Name: "figure or key that a finding is about", Rule: "gapline explain tells about it", Terms: From("findings")},
	{Key: "findings.text", Name: "a finding in a sentence", Rule: "numbers as people read them, metric in JSON", Terms: From("findings")},
})

// levelsSpoken are the words of the gap at each level of trust.
func levelsSpoken() (out []*Spoken) {
	groups := []string{"gap.by_trust.", "gap.by_trust.", "gap.by_trust.", "gap.by_trust.", "gap.woofer_mid_by_trust.", "gap.woofer_mid_by_trust."}
	for i, name := range append(slices.Clone(levelNames), levelNames[:2]...) {
		at := groups[i] + name + "."
		out = append(out,
			&Spoken{Key: at + "verdict", Name: "verdict on the gap, by " + name, Takes: []string{"unknown", "missed", "met"},
				Rule:  "missed where the gap is wider than targets.gap, whatever is unknown; unknown where a limit that is not known could open it; else met",
				Terms: From(at+"oct", "targets.gap")},
			&Spoken{Key: at + "low_limit", Name: "what ends the side of the woofers or mids, by " + name, Rule: "the figure that is the least: criterion, chamber corner or the mouths' phases", Terms: From(at + "low_hz")},
			&Spoken{Key: at + "high_limit", Name: "what ends the horn's side, by " + name, Rule: "the figure or key that is the greatest: pattern, 1.2 × flare cutoff or the driver's lowest", Terms: From(at + "high_hz")})
	}
	return append(out, &Spoken{Key: "gap.by_trust.wave.run_sha256", Name: "stored run that the wave level is from",
		Rule: "digest of the run as gapline wave stored it beside the design; size --strict prints it", Terms: From("horn.pattern_wave_hz")})
}

// FindSpoken returns what is said under a key; nil when there is nothing.
func FindSpoken(key string) *Spoken {
	if i := slices.IndexFunc(spoken, func(s *Spoken) bool { return s.Key == key }); i >= 0 {
		return spoken[i]
	}
	return nil
}

// AllSpoken lists what is said in words, in order.
func AllSpoken() []*Spoken { return slices.Clone(spoken) }
