package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/check"
	"gapline/internal/picture"
	"gapline/internal/result"
	"gapline/internal/screen"
	"gapline/internal/study/fold"
	"gapline/internal/wavecache"
	"gapline/plots"

	"github.com/spf13/cobra"
)

// foldOptions are the flags of the fold command.
type foldOptions struct {
	rays       int
	view, part string
}

var (
	foldViews = []string{"side", "section", "front", "stack"}
	foldParts = []string{"fold", "insert"}
)

// Rays worked out unless --rays says otherwise.
const (
	raysOnScreen = 9
	raysInData   = 201 // JSON, CSV and charts
	mostRays     = 100000
)

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
		RunE: func(_ *cobra.Command, given []string) error {
			if err := o.check(); err != nil {
				return usageError{err}
			}
			if o.part == "insert" {
				return runPlate(a, given[0])
			}
			return runFold(a, given[0], o)
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.rays, "rays", 0, fmt.Sprintf("`N` rays (%d on the screen and %d in --json, --csv and charts unless given)", raysOnScreen, raysInData))
	f.StringVar(&o.view, "view", "side", "`VIEW` that -o shows: "+strings.Join(foldViews, ", "))
	f.StringVar(&o.part, "part", "fold", "`PART` to write: "+strings.Join(foldParts, " or "))
	_ = cmd.RegisterFlagCompletionFunc("view", cobra.FixedCompletions(foldViews, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("part", cobra.FixedCompletions(foldParts, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func (o *foldOptions) check() error {
	switch {
	case o.rays != 0 && (o.rays < 2 || o.rays > mostRays):
		return fmt.Errorf("--rays is %d: between 2 and %d are possible", o.rays, mostRays)
	case !slices.Contains(foldViews, o.view):
		return fmt.Errorf("--view is %q: one of %s is needed", o.view, strings.Join(foldViews, ", "))
	case !slices.Contains(foldParts, o.part):
		return fmt.Errorf("--part is %q: %s is needed", o.part, strings.Join(foldParts, " or "))
	}
	return nil
}

func (o *foldOptions) count(a *app) int {
	switch {
	case o.rays != 0:
		return o.rays
	case a.json || a.csv || o.view == "front":
		return raysInData
	}
	return raysOnScreen
}

func runFold(a *app, name string, o foldOptions) error {
	file, err := a.load(name)
	if err != nil {
		return err
	}
	if problems := check.FoldProblems(&file.Design); len(problems) > 0 {
		return file.Fault(problems...)
	}
	st, err := fold.Run(&file.Design, o.count(a))
	if err != nil {
		return file.FaultOf("[fold]", err)
	}
	st.Sizing.Wave = wavecache.Beside(file.Name).Figures(&st.Design)
	findings := advice.FoldFindings(st)
	if err := printFold(a, st, findings, o); err != nil {
		return err
	}
	if !st.Fits {
		return errUnfit
	}
	return writeFold(a, st, o)
}

func printFold(a *app, st *fold.Study, findings []result.Finding, o foldOptions) error {
	switch {
	case a.json:
		return screen.WriteJSON(a.out, screen.FoldObject(st, findings))
	case a.csv:
		return screen.FoldCSV(a.out, st)
	}
	if o.rays == 0 && len(st.Rays) > raysOnScreen {
		// More rays were traced for a chart; the screen keeps to a few.
		few := *st
		few.Rays = nil
		for i := range raysOnScreen {
			few.Rays = append(few.Rays, st.Rays[i*(len(st.Rays)-1)/(raysOnScreen-1)])
		}
		st = &few
	}
	return screen.Fold(a.out, st, findings, a.system())
}

// writeFold writes pictures and outlines to the -o paths.
func writeFold(a *app, st *fold.Study, o foldOptions) error {
	if len(a.outputs) == 0 {
		return nil
	}
	outlines, err := st.Fold.Outlines(st.Design.Fold.WallMaterial)
	if err != nil {
		return err
	}
	return a.writeDrawing(drawing{
		outlines: outlines, across: "z", up: "y", title: st.Design.Title,
		text: "folded path, side view: z to the right (forward), y up; mm",
		picture: func() plots.Figure {
			switch o.view {
			case "section":
				return picture.FoldSection(st, a.system())
			case "front":
				return picture.FoldFront(st, a.system())
			case "stack":
				if st.Stack == nil {
					return nil
				}
				return picture.FoldStack(st, st.Stack.At(chartFrequencies(500, 20e3, 24)), a.system())
			}
			return picture.FoldSide(st, outlines, a.system())
		},
		why: "--view stack needs cabinet.height or cabinet.pitch",
	})
}

// chartFrequencies are frequencies in Hz from low to high, so many per octave.
func chartFrequencies(low, high float64, perOctave int) []float64 {
	n := int(math.Round(math.Log2(high/low) * float64(perOctave)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = low * math.Pow(high/low, float64(i)/float64(n))
	}
	return out
}

// runPlate writes the insert's plate.
func runPlate(a *app, name string) error {
	file, err := a.load(name)
	if err != nil {
		return err
	}
	d := &file.Design
	if !d.HasInsert() {
		return file.Fault(check.Problem{Keys: []string{"insert"}, Text: "--part insert needs [insert] with mouths, mouth_height and mouth_width"})
	}
	plate := d.InsertPlate()
	outlines, err := plate.Outlines()
	if err != nil {
		return file.FaultOf("[insert]", err)
	}
	if a.csv {
		return screen.OutlineCSV(a.out, outlines)
	}
	if a.json {
		err = screen.WriteJSON(a.out, screen.PlateObject(d.Title, plate))
	} else {
		err = screen.Plate(a.out, d.Title, plate, a.system())
	}
	if err != nil || len(a.outputs) == 0 {
		return err
	}
	s := sizing.Size(d)
	return a.writeDrawing(drawing{
		outlines: outlines, across: "x", up: "y", title: d.Title, text: "insert plate from the front; mm",
		picture: func() plots.Figure { return picture.InsertPlate(d, &s, a.system()) },
	})
}
