package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/schema"
	"gapline/internal/search"
	"gapline/internal/study/space"
	"gapline/internal/wholefile"

	"github.com/spf13/cobra"
)

// searchFlags are the flags of the search command.
type searchFlags struct {
	designs int
	seed    int64
	part    string
	results resultFlags
}

// resultFlags say where the designs that were found go.
type resultFlags struct {
	dir   string
	force bool
}

func (f *resultFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.dir, "write", "", "write each of the best as a design file into folder `DIR`")
	cmd.Flags().BoolVar(&f.force, "force", false, "let --write overwrite files")
	_ = cmd.RegisterFlagCompletionFunc("write", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return nil, cobra.ShellCompDirectiveFilterDirs
	})
}

// errNothingFits is the result of a search whose limits leave nothing.
var errNothingFits = errors.New("nothing fits within the limits")

func newSearch(a *app) *cobra.Command {
	var f searchFlags
	cmd := &cobra.Command{
		Use:     "search FILE",
		GroupID: "ask",
		Short:   "Find designs within the file's limits that serve its goals best",
		Long: `Look for designs among those that the file's [search] table allows:

  [search]
  limits  = ["gap.open_oct <= 0.2 oct", "horn.flat_to_hz >= 5 kHz", "cabinet.width <= 620 mm"]
  goals   = ["minimise gap.low_hz", "maximise coupling.length_m"]    # one to three
  designs = 20000                              # how many; seed = 1 which ones
  [search.vary]
  "cabinet.pitch"    = "200:320 mm"            # anything in between
  "horn.mouth_width" = "250:450:10 mm"         # in steps
  "line.boxes"       = [6, 8, 10]
  "targets.coupling" = ["half-wave", "lobe"]

Limits and goals may name any figure or numeric key; gapline explain lists them.
Keys under [follow] move along, unless they are varied themselves.

The ranges are sampled evenly, or in every combination when that is no more; then
local searches start from the best. The table shows up to ten of the designs that
no other beats in every goal, and what holds each back: limits, ends of ranges,
sides of the gap (such as horn.lowest) and misfits are eased one at a time, the
search is repeated from the design, and what improves a goal is listed with what it
gives. When nothing fits, it says which limit to relax least, and by how much.

Ctrl-C prints what was found until then. --part K/N samples one slice and writes
a part file for gapline merge; see gapline help merge for an array job.`,
		Example: `  gapline search box.toml
  gapline search box.toml -o front.png --write found
  gapline search box.toml --designs 200000 --seed 2 --json
  gapline search box.toml --part 3/8 > part-3`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		RunE: func(cmd *cobra.Command, given []string) error {
			return runSearch(cmd.Context(), a, given[0], f)
		},
	}
	cmd.Flags().IntVar(&f.designs, "designs", 0, "`N` designs to sample, in place of the file's number")
	cmd.Flags().Int64Var(&f.seed, "seed", -1, "`SEED` of the sample, in place of the file's")
	cmd.Flags().StringVar(&f.part, "part", "", "sample slice `K/N` only and write a part file")
	f.results.add(cmd)
	return cmd
}

func runSearch(ctx context.Context, a *app, name string, f searchFlags) error {
	slice, err := a.parsePart(f.part)
	if err != nil {
		return usageError{err}
	}
	if slice != nil && (a.json || a.csv || f.results.dir != "") {
		return usageError{errors.New("a part holds no results yet: give --json, --csv and --write to gapline merge")}
	}
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	spec, err := newSearchOf(file, f.designs, f.seed)
	if err != nil {
		return err
	}
	if slice != nil {
		return writeSearchPart(ctx, a, file, spec, *slice)
	}
	h := &searching{app: a, search: spec, results: f.results, source: name}
	if err := h.check(); err != nil {
		return err
	}
	archive, err := h.sample(ctx, 0, spec.Plan.Designs)
	return h.finish(ctx, archive, err)
}

// newSearchOf prepares the search; a fault of a flag is bad usage.
func newSearchOf(file *designfile.File, designs int, seed int64) (*space.Search, error) {
	spec, err := space.NewSearch(&file.Project, designs, seed)
	var faults schema.Faults
	if err != nil && !errors.As(err, &faults) {
		return spec, usageError{fmt.Errorf("--designs: %w", err)}
	}
	return spec, file.Locate(err)
}

// searching is one run of a search, or the end of one whose slices were sampled
// elsewhere.
type searching struct {
	app     *app
	search  *space.Search
	results resultFlags
	source  string // the design file, for the comments of what is written
}

func (h *searching) sample(ctx context.Context, lo, hi int) (*search.Archive, error) {
	bar := h.app.newProgress("sized", hi-lo)
	defer bar.end()
	return h.search.Sample(ctx, lo, hi, bar.at)
}

// finish refines what the samples found and shows it; stopped says why the
// sampling ended early, if it did.
func (h *searching) finish(ctx context.Context, archive *search.Archive, stopped error) error {
	if stopped == nil {
		bar := h.app.newProgress("local searches", 0)
		stopped = h.search.Refine(ctx, archive, bar.of)
		bar.end()
	}
	if stopped != nil {
		if archive.Samples() == 0 {
			return stopped
		}
		h.app.note("stopped; this is what was found so far")
	}
	return errors.Join(stopped, h.show(ctx, archive))
}

// nothingSized is the failure of a search none of whose designs can exist and be built.
func nothingSized(a *search.Archive, found *space.Found) error {
	n := a.Impossible + a.Misfits
	switch {
	case n == 0 || n < a.Samples():
		return nil
	case a.Misfits == 0:
		return fmt.Errorf("none of the %d designs can exist; the first: %s", n, found.First)
	case a.Impossible == 0:
		return fmt.Errorf("none of the %d designs can be built; the first: %s", n, found.Unfit)
	}
	return fmt.Errorf("none of the %d designs can be built, and %d of them cannot exist; the first of these: %s; the first of the others: %s",
		n, a.Impossible, found.First, found.Unfit)
}

// show prints the result and writes pictures and files.
func (h *searching) show(ctx context.Context, archive *search.Archive) error {
	found := h.search.Found(archive)
	if err := nothingSized(archive, found); err != nil {
		return err
	}
	bar := h.app.newProgress("designs asked what holds them back", len(found.Best))
	// A search that was stopped shows what it has: those not asked say so.
	_ = h.search.Hold(ctx, found, bar.of)
	bar.end()
	if err := h.app.print(describe.Search(h.search, found)); err != nil {
		return err
	}
	if len(found.Front) == 0 {
		return errNothingFits
	}
	if err := h.draw(found); err != nil {
		return err
	}
	return h.write(found)
}

func (h *searching) draw(found *space.Found) error {
	if len(h.app.outputs) == 0 {
		return nil
	}
	chart, err := describe.Pareto(h.search, found)
	if err != nil {
		return err
	}
	return h.app.picture(chart)
}

// fileOf is the path of the design file of a label.
func (h *searching) fileOf(label string) string {
	return filepath.Join(h.results.dir, "found-"+strings.ToLower(label)+".toml")
}

// check refuses, before the work, to overwrite files.
func (h *searching) check() error {
	if h.results.dir == "" {
		return nil
	}
	if info, err := os.Stat(h.results.dir); err == nil && !info.IsDir() {
		return usageError{fmt.Errorf("--write %s: there is a file of this name, not a folder", h.results.dir)}
	}
	there, err := filepath.Glob(h.fileOf("?"))
	if err != nil {
		return usageError{fmt.Errorf("--write %s: %w", h.results.dir, err)}
	}
	if len(there) > 0 && !h.results.force {
		return usageError{fmt.Errorf("%s exists: choose another folder, or use --force to overwrite it", there[0])}
	}
	return nil
}

// write writes each of the best as a design file.
func (h *searching) write(found *space.Found) error {
	if h.results.dir == "" {
		return nil
	}
	if err := os.MkdirAll(h.results.dir, 0o777); err != nil {
		return fmt.Errorf("--write: %w", err)
	}
	for i := range found.Best {
		c := &found.Best[i]
		p, comment := h.search.Written(c, h.source)
		if err := wholefile.Write(h.fileOf(c.Label), designfile.Encode(&p, comment)); err != nil {
			return err
		}
	}
	first, last := filepath.ToSlash(h.fileOf(found.Best[0].Label)), filepath.ToSlash(h.fileOf(found.Best[len(found.Best)-1].Label))
	if first == last {
		h.app.note("wrote %s; try: gapline size %s", first, first)
		return nil
	}
	h.app.note("wrote %d designs, %s to %s; try: gapline compare %s %s", len(found.Best), first, last, first, last)
	return nil
}
