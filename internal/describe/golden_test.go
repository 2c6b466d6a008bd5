package describe

import (
	"bytes"
	"context"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/study/space"
	"gapline/plots"

	"gonum.org/v1/plot/cmpimg"
)

var update = flag.Bool("update", false, "rewrite the golden pictures in testdata")

// delta is the colour difference allowed at each pixel, of 1: rounding of
// coordinates differs between processors.
const delta = 0.1

// TestGolden compares pictures of the starters with those in testdata, so that
// a change of what is shown is seen and decided on (regression only). After
// looking at the new ones:
//
//	go test ./internal/describe -run Golden -update
func TestGolden(t *testing.T) {
	insert := starter(t, "hatch-insert")
	size := sizing.Size(&insert.Design)
	for name, fig := range map[string]plots.Figure{
		"strip":   picture.Figure(Strip([]Sized{{Design: &insert.Design, Sizing: &size}}), quantity.Metric),
		"lever":   lever(t, insert, "cabinet.pitch=200mm:400mm:10mm"),
		"map":     gapMap(t, insert, "horn.coverage=40:140:10deg", "insert.chamber_volume=0.1:1:0.1L"),
		"maximum": largest(t, starter(t, "hatch-mids")),
	} {
		got := small(t, fig)
		path := filepath.Join("testdata", name+".png")
		if *update {
			if err := os.WriteFile(path, got, 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if same, err := cmpimg.EqualApprox("png", got, want, delta); err != nil || !same {
			shown := filepath.Join(t.ArtifactDir(), name+".png")
			if err := os.WriteFile(shown, got, 0o666); err != nil {
				t.Error(err)
			}
			t.Errorf("%s differs from testdata (%v); see %s", name, err, shown)
		}
	}
}

func starter(t *testing.T, name string) *designfile.File {
	t.Helper()
	f, err := designfile.LoadStarter(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func grid(t *testing.T, f *designfile.File, vary ...string) *space.Grid {
	t.Helper()
	var axes []space.Axis
	for _, v := range vary {
		a, err := space.ParseAxis(v)
		if err != nil {
			t.Fatal(err)
		}
		axes = append(axes, a)
	}
	g, err := space.NewGrid(&f.Project, axes)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func lever(t *testing.T, f *designfile.File, vary string) plots.Lever {
	t.Helper()
	g := grid(t, f, vary)
	curves, err := g.MouthCurves(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	s := sizing.Size(&f.Design)
	return leverOf(t, LeverChart(g.Axes[0], curves, &f.Design, &s), quantity.Metric)
}

func gapMap(t *testing.T, f *designfile.File, vary ...string) plots.GapMap {
	t.Helper()
	g := grid(t, f, vary...)
	gap, fits, err := g.Gaps(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	s := sizing.Size(&f.Design)
	return drawnOf(t, GapMap(g.Axes, gap, fits, &f.Design, &s), quantity.Metric, "").(plots.GapMap)
}

// small draws a figure as PNG at a third of its size in grey, so that the golden
// files stay small; shapes, places and words still show.
func small(t *testing.T, fig plots.Figure) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "figure.png")
	if err := plots.Save(path, fig); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	full, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := png.Encode(&out, shrink(full, 3)); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// shrink averages blocks of n × n pixels to grey.
func shrink(m image.Image, n int) *image.Gray {
	b := m.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx()/n, b.Dy()/n))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			sum := 0
			for i := range n * n {
				sum += int(color.GrayModel.Convert(m.At(b.Min.X+x*n+i%n, b.Min.Y+y*n+i/n)).(color.Gray).Y)
			}
			out.SetGray(x, y, color.Gray{Y: uint8(sum / (n * n))})
		}
	}
	return out
}
