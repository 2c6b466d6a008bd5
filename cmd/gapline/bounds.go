package main

import (
	"fmt"
	"strings"

	"gapline/internal/bem"
	"gapline/internal/bem3"
	"gapline/internal/designfile"
	"gapline/internal/part"
	"gapline/internal/schema"
	"gapline/internal/study/box"
	"gapline/internal/study/line"
	"gapline/internal/study/listen"
	"gapline/internal/study/space"
	"gapline/internal/texttable"
	"gapline/internal/wav"

	"github.com/spf13/cobra"
)

// Bounds of how many files a command takes. The picture of a comparison grows with its
// designs: a hundred take a third of a gigabyte.
const (
	mostCompared = 100
	mostReviewed = 25
	mostTraces   = 100
	mostPoints   = 1000 // --point of line
)

// A bound is the most of something that a command takes; beyond it the command refuses
// and names the number.
type bound struct {
	of   string // the flag, the key or the file
	most string // with the number, as the refusal has it
	cost string // what the starter takes at the bound; "" where it is little
}

const mega = 1 << 20 // bytes

// Bounds that several commands have.
var (
	designBound      = bound{"design file", fmt.Sprintf("at most %d MB, lists of %d entries", designfile.MaxSize/mega, schema.MaxList), ""}
	partBound        = bound{"--part K/N", fmt.Sprintf("N up to %d", part.MaxParts), ""}
	frequenciesBound = bound{"--frequencies", fmt.Sprintf("at most %d", line.MostFrequencies), "7 s, 140 MB"}
	textBound        = bound{"text table", fmt.Sprintf("at most %d MB", texttable.Limit/mega), "2 s, 40 MB"}
	soundBound       = bound{"WAV file", fmt.Sprintf("at most %d MB", wav.SizeLimit/mega), ""}
)

// bounds lists what bounds a command, by its name, with the processor time and the memory
// that the starter was seen to take at them. What is not listed here grows with nothing
// that a user gives: a second or two, and under 200 MB.
var bounds = map[string][]bound{
	"new":       {{"FILE", "one, of some kB", ""}},
	"size":      {designBound},
	"horn":      {designBound},
	"draw":      {designBound},
	"explain":   {designBound},
	"crossover": {designBound, frequenciesBound},
	"box": {
		designBound,
		{"--per-octave", fmt.Sprintf("at most %d frequencies in all", box.MaxFrequencies), "1 s, 160 MB"},
		{"--boxes", fmt.Sprintf("at most %d sizes, up to %d boxes", mostSizes, mostBoxes), "the work grows with their cube"},
		{"--fit", fmt.Sprintf("a text table of at most %d MB", texttable.Limit/mega), ""},
	},
	"fold": {designBound, {"--rays", fmt.Sprintf("2 to %d", mostRays), "1 s, 380 MB"}},
	"line": {
		designBound, frequenciesBound,
		{"--point", fmt.Sprintf("at most %d", mostPoints), ""},
		{"--step", fmt.Sprintf("%g deg at least", 180.0/mostSteps), fmt.Sprintf("%d tables", 2*(2*mostSteps+1))},
	},
	"listen": {
		designBound,
		{"--duration", fmt.Sprintf("at most %d samples", listen.MostSamples), "87 s at 48 kHz: 9 s, 1 GB"},
		{"--rate", fmt.Sprintf("%d to %d Hz", listen.LeastRate, listen.MostRate), ""},
		{"--wav", fmt.Sprintf("at most %d MB", wav.SizeLimit/mega), ""},
	},
	"sweep": {
		designBound,
		{"--vary", fmt.Sprintf("at most %d designs in all", space.MaxDesigns), "10 min, 40 MB; with a picture 1 kB a design"},
		partBound,
	},
	"compare": {designBound, {"FILE", fmt.Sprintf("at most %d designs", mostCompared), "2 s, 350 MB with a picture"}},
	"tolerance": {
		designBound,
		{"--samples", fmt.Sprintf("%d to %d", schema.MinSamples, schema.MaxSamples), "15 s, 50 MB"},
		{"--vary", fmt.Sprintf("2 to %d numbers", mostVaried), ""},
	},
	"search": {
		designBound,
		{"--designs", fmt.Sprintf("%d to %d", schema.MinDesigns, schema.MaxDesigns), "5,000 a second and core"},
		{"search.vary", fmt.Sprintf("at most %d keys", schema.MaxVariations), ""},
		{"search.limits", fmt.Sprintf("at most %d", schema.MaxLimits), ""},
		{"search.goals", fmt.Sprintf("at most %d", schema.MaxGoals), ""},
		partBound,
	},
	"merge": {
		{"PART", fmt.Sprintf("at most %d", part.MaxParts), "of a sweep, whatever their size: 40 MB"},
	},
	"wave": {
		designBound,
		{"--count", fmt.Sprintf("1 to %d frequencies", mostFrequencies), ""},
		{"--of plan, fold", fmt.Sprintf("a matrix of at most %.3g GB", bem.DefaultMemory/1e9), "80 s and 2.3 GB a frequency"},
		{"--of front", fmt.Sprintf("at most %.3g GB", bem3.DefaultMemory/1e9), "it says beforehand what it takes"},
		partBound,
	},
	"trace": {designBound, {"MEASURED", fmt.Sprintf("at most %d traces", mostTraces), ""}, textBound, soundBound},
	"report": {
		designBound,
		{"FILE", fmt.Sprintf("at most %d designs", mostReviewed), "10 s, 200 MB"},
		{"--trace, --pair", fmt.Sprintf("at most %d traces", mostTraces), ""},
		textBound, soundBound,
	},
}

// boundsText is what the help of a command says of its bounds.
func boundsText(list []bound) string {
	var out strings.Builder
	out.WriteString("\n\nBounds, and the processor time and memory that the starter takes at them:\n")
	wide := 0
	for _, b := range list {
		wide = max(wide, len(b.of))
	}
	for i, b := range list {
		if i > 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, "  %-*s  %s", wide, b.of, b.most)
		if b.cost != "" {
			fmt.Fprintf(&out, " (%s)", b.cost)
		}
	}
	return out.String()
}

// stateBounds adds to the help of every command what bounds it.
func stateBounds(root *cobra.Command) {
	for _, c := range root.Commands() {
		if list := bounds[c.Name()]; list != nil {
			c.Long = strings.TrimRight(c.Long, "\n") + boundsText(list)
		}
	}
}

// checkCount refuses more of something than a command takes.
func checkCount(what string, n, most int) error {
	if n > most {
		return usageError{fmt.Errorf("%d %s: at most %d are possible", n, what, most)}
	}
	return nil
}
