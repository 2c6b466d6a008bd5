package rows

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"gapline/internal/describe"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/part"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/space"

	"pgregory.net/rapid"
)

// partGrid is a small grid of which some designs cannot exist.
func partGrid(t *rapid.T) *space.Grid {
	f, err := designfile.LoadStarter("hatch", []string{"cabinet.rear_height=240mm"})
	if err != nil {
		t.Fatal(err)
	}
	var list []space.Axis
	for _, text := range []string{"cabinet.pitch=235mm:260mm:5mm", "targets.coupling=lobe,half-wave", "horn.mouth_width=300,700mm"} {
		a, err := space.ParseAxis(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, a)
	}
	g, err := space.NewGrid(&f.Project, list)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// fill plays designs lo to hi of a grid into a writer of rows.
func fill(t *rapid.T, g *space.Grid, sweep *describe.Sweep, layout *Layout, w Writer, lo, hi int) {
	var axes []Axis
	for _, a := range g.Axes {
		axes = append(axes, Axis{Key: a.Key.Path, Values: sweep.Values(a)})
	}
	if err := w.Begin(axes); err != nil {
		t.Fatal(err)
	}
	type line struct {
		text []byte
		err  error
	}
	at := lo
	err := space.Each(context.Background(), &g.Space, g.Values, lo, hi, func(p *space.Point) line {
		s := p.Size()
		return line{layout.NewSetter().Row(nil, sweep.Row(nil, p.Values, p.Fits(), &p.Design, &s)), p.Err}
	}, func(l line) error {
		at++
		if l.err != nil {
			values := g.At(at - 1)
			return w.Skip(layout.Skipped(sweep.Varied(nil, values), l.err.Error()), space.Why(values, l.err))
		}
		return w.Row(l.text)
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := w.End(); err != nil {
		t.Fatal(err)
	}
}

// However a grid is cut, its parts join to what one run writes.
func TestPartsJoinToTheWhole(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		g := partGrid(t)
		format := rapid.SampledFrom([]Format{Text, CSV, JSON}).Draw(t, "format")
		place := map[Format]result.Place{Text: result.Screen, CSV: result.Listing, JSON: result.Data}[format]
		sweep := describe.NewSweep(place, g.Axes, []schema.Measure{{Figure: figure.GapOpen}, {Key: schema.FindKey("horn.mouth_height")}})
		layout := New(format, quantity.Metric, sweep.Columns())
		var whole bytes.Buffer
		fill(t, g, sweep, layout, NewWhole(bufio.NewWriter(&whole), layout), 0, g.Len())

		of := rapid.IntRange(1, 30).Draw(t, "parts")
		var files []*part.File
		for k := 1; k <= of; k++ {
			p := part.Part{Number: k, Of: of}
			var b bytes.Buffer
			w, err := part.NewWriter(&b, part.Head{Command: "sweep", Part: p, Format: string(format), Designs: g.Len()})
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := p.Range(g.Len())
			fill(t, g, sweep, layout, &Part{Layout: layout, W: w}, lo, hi)
			path := filepath.Join(dir, fmt.Sprint(k))
			if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
			f, err := part.Open(t.Context(), path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			files = append(files, f)
		}
		var joined bytes.Buffer
		skipped, first, err := Merge(&joined, files)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(joined.Bytes(), whole.Bytes()) {
			t.Fatalf("%d parts join to\n%s\nwant\n%s", of, joined.Bytes(), whole.Bytes())
		}
		if skipped == 0 || skipped == g.Len() || first == "" {
			t.Fatalf("%d skipped, the first: %q", skipped, first)
		}
	})
}
