package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"

	"gapline/internal/designfile"
	"gapline/internal/part"
	"gapline/internal/render/rows"

	"github.com/spf13/cobra"
)

const mergeLong = `Join the part files that gapline sweep, search and wave --of front wrote with --part to
what one run would have written, to the last byte. All parts of the run are needed; the
order in which they are given does not matter.

The parts of a sweep hold its table as text, CSV or JSON, as the sweep was asked
for. The parts of a search hold what its slices found; merge refines that and
prints it, and takes the flags of search: --json, --csv, -o, --write. The parts of
wave --of front hold solutions; merge reads them off and takes --json, --csv and -o. It
stores the run for size if the design file still stands where it was. The times of the
solutions, "seconds" in --json, are those of the parts.

Any batch scheduler's array job spreads the slices over machines. With Slurm, in a
script called job.sh:

  #!/bin/sh
  #SBATCH --array=1-40
  gapline search box.toml --designs 4000000 --quiet \
    --part "$SLURM_ARRAY_TASK_ID/$SLURM_ARRAY_TASK_COUNT" > "part-$SLURM_ARRAY_TASK_ID"

Send it off with  sbatch --wait job.sh  and then join:

  gapline merge part-* -o front.png --write found`

func newMerge(a *app) *cobra.Command {
	var results resultFlags
	cmd := &cobra.Command{
		Use:     "merge PART...",
		GroupID: "ask",
		Short:   "Join the slices of a big sweep, search or wave --of front",
		Long:    mergeLong,
		Example: `  gapline sweep box.toml --vary cabinet.pitch=200:300:0.1mm --csv --part 1/2 > part-1
  gapline sweep box.toml --vary cabinet.pitch=200:300:0.1mm --csv --part 2/2 > part-2
  gapline merge part-1 part-2 > pitch.csv`,
		Args:        args(cobra.MinimumNArgs(1), "the part files are needed"),
		Annotations: map[string]string{filesAnnotation: ".stl .obj"},
		RunE: func(cmd *cobra.Command, given []string) error {
			return runMerge(cmd.Context(), a, given, results)
		},
	}
	results.add(cmd)
	return cmd
}

func runMerge(ctx context.Context, a *app, names []string, results resultFlags) error {
	files, err := openParts(ctx, names)
	if err != nil {
		return usageError{err}
	}
	defer func() {
		for _, f := range files {
			f.Close()
		}
	}()
	command := files[0].Head.Command
	if command != searchCommand && results.dir != "" {
		return usageError{errors.New("--write is for the parts of a search")}
	}
	if command != waveCommand && slices.ContainsFunc(a.outputs, isSurface) {
		return usageError{errors.New("surfaces, .stl and .obj, are of the parts of wave --of front")}
	}
	switch command {
	case searchCommand:
		return mergeSearch(ctx, a, files, results)
	case waveCommand:
		return mergeFront(ctx, a, files)
	}
	return mergeSweep(a, files)
}

// openParts opens and checks all part files and puts them in order.
func openParts(ctx context.Context, names []string) ([]*part.File, error) {
	var files []*part.File
	var faults []error
	for _, name := range names {
		f, err := part.Open(ctx, name)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		files = append(files, f)
	}
	if len(faults) == 0 {
		faults = append(faults, part.Sort(files))
	}
	if err := errors.Join(faults...); err != nil {
		for _, f := range files {
			f.Close()
		}
		return nil, err
	}
	return files, nil
}

func mergeSweep(a *app, files []*part.File) error {
	head := files[0].Head
	if a.json && rows.Format(head.Format) != rows.JSON || a.csv && rows.Format(head.Format) != rows.CSV {
		return usageError{fmt.Errorf("the parts hold %s: give --%s to the sweep", head.Format, asked(a))}
	}
	if len(a.outputs) > 0 {
		return usageError{errors.New("the parts of a sweep hold no picture: use gapline sweep -o without --part")}
	}
	skipped, first, err := rows.Merge(a.out, files)
	if err != nil {
		return err
	}
	report := skipReport{total: head.Designs, count: skipped, first: first}
	return report.report(a)
}

func asked(a *app) string {
	if a.json {
		return "json"
	}
	return "csv"
}

// runID tells the parts of one run from those of another: by the design as it
// stands after all settings, and by everything that shapes the output.
func runID(file *designfile.File, format, units string, lists ...[]string) string {
	h := sha256.New()
	h.Write(designfile.Encode(&file.Project, version))
	fmt.Fprintf(h, "%q %q %q", format, units, lists)
	return hex.EncodeToString(h.Sum(nil)[:12])
}
