package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/review"
	"gapline/internal/study/trace"
	"gapline/internal/wholefile"

	"github.com/spf13/cobra"
)

// reportFlags are the flags of the report command.
type reportFlags struct {
	since  string
	traces []string
	trace  traceFlags
	force  bool
}

// Names of the files in the folder.
const reportHTML, reportPDF = "report.html", "report.pdf"

func newReport(a *app) *cobra.Command {
	var f reportFlags
	cmd := &cobra.Command{
		Use:     "report [FILE...] -o DIR",
		GroupID: "learn",
		Short:   "Write the document for a design review, as one HTML page and as PDF",
		Long: `Write everything that gapline knows of a design into folder DIR, as ` + reportHTML + `,
one page that loads nothing, and as ` + reportPDF + `. Page one holds what a meeting decides by:
the question, the box to scale, the verdict at each level of trust with what binds each
side, the tradeoff of all designs, the decision and who answers for it. Then why, why
not, and what to measure or change next; then the evidence, each section opening with
what it shows for the question; then an appendix with every figure, formulas, sources,
keys, methods and their limits, what the file does not give enough for, and cautions.
Without FILE it takes the built-in starter.

The first FILE is under review; further ones stand beside it as alternatives.
--since says in words what changed since an earlier revision, and which key explains
it. --trace, --pair and --stacks lay measured responses over the prediction, as
gapline trace does; pages that hold measurements say so. Figures of a stored run of
gapline wave appear if it matches the design. --json holds the same sections, in their
order, with every number of the document.

The table [review] of the file holds the words for the meeting:

  [review]
  question    = "How does the box hand over without a gap?"
  decision    = "Two mouths in front of each cone."
  reasons     = ["It closes the gap.", "It adds a plate, not a crossover point."]
  open_points = ["Measure the chamber's corner on one box."]
  author      = "who answers for it"
  revision    = "B"

The same input gives the same bytes: no date but what the file says.`,
		Example: `  gapline report box.toml -o review
  gapline report insert.toml box.toml mids.toml -o review
  gapline report insert.toml --since box.toml -o review
  gapline report box.toml --trace on-axis.txt --pair with.txt,without.txt -o review
  gapline report box.toml --json`,
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: completeDesignFiles,
		Annotations:       map[string]string{folderAnnotation: "yes"},
		RunE: func(cmd *cobra.Command, given []string) error {
			if err := f.check(a); err != nil {
				return usageError{err}
			}
			return runReport(cmd.Context(), a, given, &f)
		},
	}
	f.add(cmd)
	return cmd
}

func (f *reportFlags) add(cmd *cobra.Command) {
	f.trace.add(&cobra.Command{}) // for the defaults of the flags that the report leaves out
	fs := cmd.Flags()
	fs.BoolVar(&f.force, "force", false, "review designs that cannot be built too")
	fs.StringVar(&f.since, "since", "", "say what changed since the earlier revision `OLD.toml`")
	fs.StringArrayVar(&f.traces, "trace", nil, "measured response `FILE` to lay over the prediction (repeatable)")
	fs.StringArrayVar(&f.trace.pairs, "pair", nil, "`WITH,WITHOUT`: two measured responses of one box to subtract (repeatable)")
	fs.StringArrayVar(&f.trace.stacks, "stacks", nil, "`ONE,OTHER`: two measured responses of stacks to subtract (repeatable)")
	fs.StringVar(&f.trace.smooth, "smooth", f.trace.smooth, "smoothing of measured responses in octaves, or none")
	fs.StringVar(&f.trace.align, "align", f.trace.align, "move measured levels to match in `LOW:HIGH`; auto or none")
	fs.StringVar(&f.trace.against, "against", f.trace.against, "what measured responses are laid over: auto, box, bare or none")
	_ = cmd.RegisterFlagCompletionFunc("since", completeDesignFiles)
}

// check reads the flags before any work.
func (f *reportFlags) check(a *app) error {
	switch {
	case a.csv:
		return errors.New("report prints no table: leave out --csv")
	case len(a.outputs) > 1:
		return fmt.Errorf("-o is given %d times: one folder is needed", len(a.outputs))
	case len(a.outputs) == 0 && !a.json:
		return errors.New("-o DIR is needed: the folder that the document is written to")
	case len(a.outputs) == 1 && a.outputs[0] == "":
		return errors.New("-o is empty: the folder that the document is written to is needed")
	}
	if len(f.traces)+len(f.trace.pairs)+len(f.trace.stacks) == 0 {
		return nil
	}
	return f.trace.settle(f.traces)
}

func runReport(ctx context.Context, a *app, given []string, f *reportFlags) error {
	designs, err := f.designs(ctx, a, given)
	if err != nil {
		return err
	}
	if !f.force {
		if err := a.refuseMisfits("review"); err != nil {
			return err
		}
	}
	o := review.Options{Settings: a.settings, System: a.system(), Version: version, Warn: a.warn}
	if a.json && len(a.outputs) == 0 {
		o.System = quantity.Metric
	}
	if f.since != "" {
		old, err := designfile.Load(ctx, f.since, nil)
		if err != nil {
			return err
		}
		o.Since = &review.Design{File: old, Name: cleantext.Line(filepath.Base(f.since))}
	}
	if o.Traces, err = f.measured(ctx, designs[0].File); err != nil {
		return err
	}
	r, err := review.New(ctx, designs, o)
	if err != nil {
		return err
	}
	if err := writeReport(a, r); err != nil || !a.json {
		return err
	}
	return machine.Write(a.out, r.Object)
}

// designs reads every file and reports the faults of all.
func (f *reportFlags) designs(ctx context.Context, a *app, given []string) ([]review.Design, error) {
	if err := checkCount("designs", len(given), mostReviewed); err != nil {
		return nil, err
	}
	if len(given) == 0 {
		file, err := designOrStarter(ctx, a, nil)
		if err != nil {
			return nil, err
		}
		return []review.Design{{File: file, Name: file.Name}}, nil
	}
	var out []review.Design
	var problems designfile.Problems
	for i, name := range given {
		file, err := a.load(ctx, name)
		if err != nil {
			problems = append(problems, err.(designfile.Problems)...)
			continue
		}
		out = append(out, review.Design{File: file, Name: designName(given, i)})
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return out, nil
}

// measured reads the measured responses; nil without any.
func (f *reportFlags) measured(ctx context.Context, file *designfile.File) (*trace.Overlay, error) {
	if len(f.trace.allFiles) == 0 {
		return nil, nil
	}
	inputs, pairs, err := f.trace.read(ctx)
	if err != nil {
		return nil, err
	}
	v, err := trace.Compare(&file.Design, inputs, pairs, f.trace.options)
	if err != nil {
		return nil, usageError{err}
	}
	return v, nil
}

// writeReport writes both files once both are complete.
func writeReport(a *app, r *review.Review) error {
	if len(a.outputs) == 0 {
		return nil
	}
	var html, pdf bytes.Buffer
	if err := r.Document.WriteHTML(&html); err != nil {
		return err
	}
	lacks, err := r.Document.WritePDF(&pdf)
	if err != nil {
		return err
	}
	if len(lacks) > 0 {
		a.note("%s shows boxes for letters that its font does not have: %s; %s has them", reportPDF, string(lacks), reportHTML)
	}
	dir := a.outputs[0]
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for _, x := range []struct {
		name string
		data []byte
	}{{reportHTML, html.Bytes()}, {reportPDF, pdf.Bytes()}} {
		path := filepath.Join(dir, x.name)
		if err := wholefile.Write(path, x.data); err != nil {
			return err
		}
		a.note("wrote %s", path)
	}
	return nil
}
