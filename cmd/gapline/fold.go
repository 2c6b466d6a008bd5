package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/cutfile"
	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/schema"
	"gapline/internal/study/fold"
	"gapline/internal/study/stored"
	"gapline/waveguide"

	"github.com/spf13/cobra"
)

// foldOptions are the flags of the fold command.
type foldOptions struct {
	rays       int
	view, part string
	force      bool
	write      string
}

// foldParts lists what --part takes.
var foldParts = []string{"fold", "insert"}

const mostRays = 100000

// errUnfit says that no wall fits; why stands in the findings.
var errUnfit = errors.New("no wall fits: nothing to draw or to cut")

func newFold(a *app) *cobra.Command {
	var o foldOptions
	cmd := &cobra.Command{
		Use:     "fold FILE",
		GroupID: "design",
		Short:   "Work out the folded path: wall curve, rays, flatness, fit, drawing, DXF and CSV",
		Long: `Work out the folded path from the throat to a flat or nearly flat front, in a box
too shallow for a straight horn: wall curve, ray paths, path spread, amplitude
over the mouth, cross mode, turn, depth saved, how exactly the wall must be
built, and how near the line of mouths comes to one ribbon.

[fold] throat_to_wall, layer and [horn] mouth_height suffice; virtual_path is a
length or "flat". Without throat_to_wall the wall is solved for, from the depth
([fold] available_depth or [cabinet] depth) and the flatness wanted ([targets]
flat_to, or virtual_path). When nothing fits, the command says what binds and the nearest
that fits, and exits with 1.

-o writes a picture (.png, .svg, .pdf; --view chooses which), the outlines for a
CAD program or a cutter (.dxf, in mm, one layer a part, texts on the layer notes),
or the outlines' points (.csv). --part insert takes the insert's plate instead.`,
		Example: `  gapline fold box.toml -o fold.png -o fold.dxf
  gapline fold box.toml --set fold.virtual_path=flat --rays 25
  gapline fold box.toml --view stack -o stack.svg
  gapline fold box.toml --part insert -o plate.dxf
  gapline fold box.toml --json`,
		Args:              args(cobra.ExactArgs(1), "one design file is needed"),
		ValidArgsFunction: completeDesignFiles,
		Annotations:       map[string]string{filesAnnotation: ".dxf .csv"},
		RunE: func(cmd *cobra.Command, given []string) error {
			if err := o.check(); err != nil {
				return usageError{err}
			}
			if o.part == "insert" {
				return runPlate(cmd.Context(), a, given[0], o.force)
			}
			return runFold(cmd.Context(), a, given[0], o)
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.rays, "rays", 0, fmt.Sprintf("`N` rays (%d on the screen and %d in --json, --csv and charts unless given)", fold.FewRays, fold.ManyRays))
	f.StringVar(&o.write, "write", "", "write the design with the wall that was solved for to `FILE`")
	f.BoolVar(&o.force, "force", false, "write files to cut by for a box that cannot be built too; with --write overwrite FILE")
	f.StringVar(&o.view, "view", "side", "`VIEW` that -o shows: "+strings.Join(describe.FoldViews, ", "))
	f.StringVar(&o.part, "part", "fold", "`PART` to write: "+strings.Join(foldParts, " or "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(describe.FoldViews, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("part", cobra.FixedCompletions(foldParts, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func (o *foldOptions) check() error {
	switch {
	case o.rays != 0 && (o.rays < 2 || o.rays > mostRays):
		return fmt.Errorf("--rays is %d: between 2 and %d are possible", o.rays, mostRays)
	case !slices.Contains(describe.FoldViews, o.view):
		return fmt.Errorf("--view is %q: one of %s is needed", o.view, strings.Join(describe.FoldViews, ", "))
	case !slices.Contains(foldParts, o.part):
		return fmt.Errorf("--part is %q: %s is needed", o.part, strings.Join(foldParts, " or "))
	}
	return nil
}

func runFold(ctx context.Context, a *app, name string, o foldOptions) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if problems := check.FoldProblems(&file.Design); len(problems) > 0 {
		return file.Fault(problems...)
	}
	st, err := fold.Run(&file.Design, fold.Options{Rays: o.rays, Ribbon: o.view == describe.FoldStack})
	if err != nil {
		return file.FaultOf("[fold]", err)
	}
	stored.Into(ctx, file.Name, &st.Design, &st.Sizing, a.warn)
	r, err := describe.Fold(st, advice.FoldFindings(st))
	if err != nil {
		return err
	}
	if err := a.print(r); err != nil {
		return err
	}
	if !st.Fits {
		return errUnfit
	}
	if o.write != "" {
		if st.Solved == nil {
			return usageError{errors.New("--write: fold.throat_to_wall is given, so that no wall was solved for: leave it out of the file to have one found")}
		}
		if err := a.writeChanged(o.write, o.force, file.Text, solvedWall(st)); err != nil {
			return err
		}
	}
	return a.writeDrawing(drawing{
		outlines: func() ([]waveguide.Outline, error) { return st.Fold.Outlines(st.Design.Fold.WallMaterial.Value()) },
		across:   "z", up: "y", title: st.Design.Title,
		texts: []string{"folded path, side view: z to the right (forward), y up; mm"},
		r:     r, view: o.view, force: o.force, why: "--view stack needs cabinet.height or cabinet.pitch",
	})
}

// solvedWall are the keys of the wall that was found, as the design file takes them.
func solvedWall(st *fold.Study) []designfile.Change {
	f := &st.Design.Fold
	quoted := func(key string, x float64) designfile.Change {
		return designfile.Change{Path: key, Value: strconv.Quote(schema.FindKey(key).Canonical(x))}
	}
	out := []designfile.Change{quoted("fold.throat_to_wall", st.Rounded())}
	if f.Wall == waveguide.StraightWall {
		return append(out, designfile.Change{Path: "fold.wall", Value: strconv.Quote(f.Wall.Name())})
	}
	if st.Solved.Best.VirtualPath() != st.Asked {
		out = append(out, quoted("fold.virtual_path", f.VirtualPath.Value()))
	}
	return out
}

// runPlate writes the insert's plate.
func runPlate(ctx context.Context, a *app, name string, force bool) error {
	file, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	d := &file.Design
	if !d.HasInsert() {
		return file.Fault(check.Problem{Keys: []string{"insert"}, Text: "--part insert needs [insert] with mouths, mouth_height and mouth_width"})
	}
	s := sizing.Size(d)
	r, err := describe.Plate(d, &s)
	if err != nil {
		return file.FaultOf("[insert]", err)
	}
	outlines := d.InsertPlate().Outlines
	if a.csv {
		return outlineCSV(a.out, outlines)
	}
	if err := a.print(r); err != nil {
		return err
	}
	return a.writeDrawing(drawing{outlines: outlines, across: "x", up: "y", title: d.Title, texts: []string{"insert plate from the front; mm"}, r: r, force: force})
}

// outlineCSV writes the points of outlines seen from the front.
func outlineCSV(w io.Writer, outlines func() ([]waveguide.Outline, error)) error {
	list, err := outlines()
	if err != nil {
		return err
	}
	data, err := cutfile.CSV(list, "x", "y")
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}
