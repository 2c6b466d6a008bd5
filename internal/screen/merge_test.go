package screen

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/part"
	"gapline/internal/study/space"

	"pgregory.net/rapid"
)

// partGrid is a small grid of which some designs cannot exist.
func partGrid(t *rapid.T) *space.Grid {
	f, err := designfile.LoadStarter("hatch", nil)
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
func fill(t *rapid.T, g *space.Grid, format RowFormat, w RowWriter, lo, hi int) {
	if err := w.Begin(); err != nil {
		t.Fatal(err)
	}
	type line struct {
		text []byte
		err  error
	}
	at := lo
	err := space.Each(context.Background(), &g.Space, g.Values, lo, hi, func(p *space.Point) line {
		s := p.Size()
		return line{format.Row(nil, p.Values, &s), p.Err}
	}, func(l line) error {
		at++
		if l.err != nil {
			return w.Skip(g.At(at-1), l.err)
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
		name := rapid.SampledFrom([]string{TextFormat, CSVFormat, JSONFormat}).Draw(t, "format")
		format := map[string]RowFormat{TextFormat: &TextRows{Axes: g.Axes}, CSVFormat: &CSVRows{Axes: g.Axes}, JSONFormat: &JSONRows{Axes: g.Axes}}[name]
		var whole bytes.Buffer
		fill(t, g, format, &WholeRows{Format: format, Joiner: Joiner{W: bufio.NewWriter(&whole), Format: name}}, 0, g.Len())

		of := rapid.IntRange(1, 30).Draw(t, "parts")
		var files []*part.File
		for k := 1; k <= of; k++ {
			p := part.Part{Number: k, Of: of}
			var b bytes.Buffer
			w, err := part.NewWriter(&b, part.Head{Command: "sweep", Part: p, Format: name, Designs: g.Len()})
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := p.Range(g.Len())
			fill(t, g, format, &PartRows{Format: format, W: w}, lo, hi)
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
		skipped, first, err := MergeRows(&joined, files)
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
