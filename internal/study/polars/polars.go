// Package polars reads what was measured of one box on a turntable, a text table for each angle of
// both planes, and makes the box's pattern of it.
//
// The tables are those that gapline line --tables writes, or of the same names:
//
//	vertical-axis-000.0.txt  vertical-up-005.0.txt  vertical-down-005.0.txt
//	horizontal-axis-000.0.txt  horizontal-left-005.0.txt  horizontal-right-005.0.txt
//
// each with lines of frequency, level and perhaps phase, as package measured reads them, all of the
// same frequencies. Where one side of a plane is not there, the other stands for both.
package polars

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gapline/cabinet/pattern"
	"gapline/cabinet/source"
	"gapline/internal/cleantext"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/quantity"
)

// Of what a folder may hold.
const (
	mostTables = 4000
	maxTable   = 4 << 20 // bytes
)

// Of more frequencies than these those next to fractions of an octave are taken.
const mostFrequencies, perOctave = 250, 24

// named is the name of a table: its plane, side and angle.
var named = regexp.MustCompile(`^(vertical|horizontal)-(axis|up|down|left|right)-(\d{1,3}(?:\.\d+)?)\.[a-z]+$`)

// ErrNames says what the tables are to be called.
var ErrNames = errors.New("text tables named such as vertical-up-005.0.txt, horizontal-left-005.0.txt and horizontal-axis-000.0.txt are needed, for both planes")

// sides are the signs of the angles to each side of a plane.
var sides = map[string]map[string]float64{
	"vertical":   {"axis": 1, "up": 1, "down": -1},
	"horizontal": {"axis": 1, "left": 1, "right": -1},
}

// table is one that was read.
type table struct {
	file  string
	angle float64 // rad
	trace measured.Trace
}

// Load reads a folder with polars of one box. band is the one of the box's bands that sounded; empty:
// the whole box. Phases count from the middle of the box's mouths; without any, all is in
// phase with it.
func Load(ctx context.Context, folder, band string) (*source.Pattern, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", folder, openfile.Cause(err))
	}
	out := &source.Pattern{Kind: source.ByMeasured, Band: band, FromMouths: true, Volts: numeric.Absent, Name: cleantext.Line(filepath.Base(filepath.Clean(folder)))}
	planes := map[string][]table{}
	count := 0
	for _, e := range entries {
		parts := named.FindStringSubmatch(strings.ToLower(e.Name()))
		if parts == nil {
			continue
		}
		if count++; count > mostTables {
			return nil, fmt.Errorf("%s: more than %d tables", folder, mostTables)
		}
		path := filepath.Join(folder, e.Name())
		sign, fits := sides[parts[1]][parts[2]]
		if !fits {
			return nil, fmt.Errorf("%s: the %s plane has no %s side", path, parts[1], parts[2])
		}
		t, predicted, err := read(ctx, path)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		degrees, _ := strconv.ParseFloat(parts[3], 64) // digits alone
		if degrees > 180 || parts[2] == "axis" && degrees != 0 {
			return nil, fmt.Errorf("%s: angles run from 0 on the axis to 180 degrees behind", path)
		}
		t.angle = sign * degrees * quantity.Degree
		out.Predicted = out.Predicted || predicted
		planes[parts[1]] = append(planes[parts[1]], t)
	}
	return out, fill(out, folder, planes)
}

// head are the lines of a table that gapline wrote.
var (
	wasPredicted = regexp.MustCompile(`(?m)^# gapline predicted;`)
	ofBoxes      = regexp.MustCompile(`(?m)^# gapline predicted;.*; (\d+) box(es)?$`)
)

// read reads one table.
func read(ctx context.Context, path string) (t table, predicted bool, err error) {
	t.file = filepath.Base(path)
	data, err := openfile.ReadAll(ctx, path, "a table of polars", maxTable)
	if err != nil {
		return t, false, err
	}
	if m := ofBoxes.FindSubmatch(data); m != nil && string(m[1]) != "1" {
		return t, true, fmt.Errorf("these are the polars of a stack of %s boxes: those of one box are needed, as gapline line --set line.boxes=1 --tables writes them", m[1])
	}
	t.trace, err = measured.ReadText(bytes.NewReader(data))
	return t, wasPredicted.Match(data), err
}

// fill makes the pattern of the tables of both planes.
func fill(out *source.Pattern, folder string, planes map[string][]table) error {
	first, phases := (*table)(nil), true
	var both [2]pattern.Plane
	for i, name := range []string{"vertical", "horizontal"} {
		list := planes[name]
		if len(list) == 0 {
			return fmt.Errorf("%s: no table of the %s plane: %w", folder, name, ErrNames)
		}
		slices.SortFunc(list, func(a, b table) int { return int(math.Copysign(1, a.angle-b.angle)) })
		for k := range list {
			t := &list[k]
			if k > 0 && t.angle-list[k-1].angle < 1e-9 {
				return fmt.Errorf("%s: %s and %s are of one angle", folder, list[k-1].file, t.file)
			}
			if first == nil {
				first = t
			}
			if !sameFrequencies(t, first) {
				return fmt.Errorf("%s: %s has other frequencies than %s: all tables need the same", folder, t.file, first.file)
			}
			phases = phases && t.trace.Phase != nil
			both[i].Angle = append(both[i].Angle, t.angle)
		}
	}
	picked := pick(first.trace.Frequency)
	p := pattern.Planes{Phases: phases}
	for _, k := range picked {
		f := first.trace.Frequency[k]
		p.Frequency = append(p.Frequency, f)
		for i, name := range []string{"vertical", "horizontal"} {
			var row []complex128
			for _, t := range planes[name] {
				phase := 0.0
				if phases {
					phase = t.trace.Phase[k]
				}
				row = append(row, cmplx.Rect(numeric.FromDB(t.trace.Level[k]), phase))
			}
			both[i].Pressure = append(both[i].Pressure, row)
		}
	}
	p.Upright, p.Level = both[0], both[1]
	var taken pattern.Taken
	var err error
	if out.Of, taken, err = pattern.FromPlanes(p); err != nil {
		return fmt.Errorf("%s: %w", folder, err)
	}
	out.Notes = notes(taken, phases)
	return nil
}

// sameFrequencies compares with the accuracy that tables are written to.
func sameFrequencies(a, b *table) bool {
	return slices.EqualFunc(a.trace.Frequency, b.trace.Frequency, func(x, y float64) bool { return math.Abs(x/y-1) < 1e-5 })
}

// pick are the places of the frequencies that are taken.
func pick(hz []float64) (out []int) {
	if len(hz) <= mostFrequencies {
		for i := range hz {
			out = append(out, i)
		}
		return out
	}
	last := math.Inf(-1)
	for i, f := range hz {
		if step := math.Floor(perOctave * math.Log2(f/hz[0])); step > last {
			out, last = append(out, i), step
		}
	}
	return out
}

// notes say in words what was taken for what was not measured.
func notes(t pattern.Taken, phases bool) (out []string) {
	side := func(upright, level bool, words string) {
		switch {
		case upright && level:
			out = append(out, "in both planes "+words)
		case upright:
			out = append(out, "in the vertical plane "+words)
		case level:
			out = append(out, "in the horizontal plane "+words)
		}
	}
	side(t.UprightMirrored, t.LevelMirrored, "one side stands for both")
	side(t.UprightHeld, t.LevelHeld, "the last angle stands for all behind it")
	if !phases {
		out = append(out, "levels alone: all directions are taken in phase with the middle of the mouths")
	}
	return out
}
