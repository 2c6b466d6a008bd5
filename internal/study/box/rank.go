package box

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/check"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
)

// Candidate is one driver in the design's cabinet.
type Candidate struct {
	File           string // name without folder
	Title          string
	Design         design.Design
	Sizing         sizing.Sizing
	Contradictions []driver.Contradiction // of its parameters
}

// Refusal is a driver file that cannot be ranked, and why.
type Refusal struct {
	File    string
	Reasons []string // each with file and line where there is one
}

// Ranking is a folder of drivers in one cabinet.
type Ranking struct {
	At      float64 // frequency at which all are judged, Hz; NaN: each at its own f3
	By      string  // one of Orders
	Ranked  []Candidate
	Refused []Refusal
}

// Orders lists by what drivers may be ranked.
var Orders = []string{"level", "f3", "gap", "cost"}

// errNoDrivers says that a folder holds no driver file.
var errNoDrivers = errors.New("holds no driver file (.toml)")

// Rank puts every driver file of a folder into the design's cabinet and sorts
// them: the best of the chosen order first, ties by level, f3 and gap, drivers
// without a value last. All are judged at the frequency that the design names,
// else at the f3 of its own woofer.
func Rank(ctx context.Context, base *designfile.File, dir, by string) (*Ranking, error) {
	names, err := driverFiles(dir)
	if err != nil {
		return nil, designfile.Problems{{Where: dir, Text: err.Error()}}
	}
	r := &Ranking{At: base.Design.LevelAt(), By: by}
	if !numeric.Given(r.At) {
		own := sizing.Size(&base.Design)
		r.At = own.Box.F3
	}
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if c, reasons := candidate(ctx, base, filepath.Join(dir, name), r.At); reasons != nil {
			r.Refused = append(r.Refused, Refusal{cleantext.Line(name), reasons})
		} else {
			r.Ranked = append(r.Ranked, c)
		}
	}
	slices.SortStableFunc(r.Ranked, func(a, b Candidate) int { return compare(&a, &b, by) })
	return r, nil
}

// driverFiles lists the TOML files of a folder in the order of their names.
func driverFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		var pe *os.PathError
		if errors.As(err, &pe) {
			return nil, pe.Err
		}
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(filepath.Ext(e.Name()), ".toml") {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, errNoDrivers
	}
	return names, nil
}

// candidate sizes the design with the driver of one file, or says why not.
func candidate(ctx context.Context, base *designfile.File, path string, at float64) (Candidate, []string) {
	w, err := designfile.LoadDriver(ctx, path)
	if err != nil {
		return Candidate{}, strings.Split(err.Error(), "\n")
	}
	d := base.Design
	w.Put(&d)
	for i := range base.Links {
		base.Links[i].Apply(&d)
	}
	d.Targets.LevelAt = at
	var reasons []string
	for _, p := range check.Design(&d) {
		reasons = append(reasons, p.Text)
	}
	complete, err := d.Woofer.Derive(air.Of(d.Air))
	if _, setupErr := check.BoxSetup(&d); setupErr != nil && len(reasons) == 0 {
		reasons = append(reasons, setupErr.Error())
	}
	if reasons != nil {
		return Candidate{}, reasons
	}
	c := Candidate{File: cleantext.Line(filepath.Base(path)), Title: w.Title, Design: d, Sizing: sizing.Size(&d)}
	if err == nil {
		c.Contradictions = complete.Contradictions
	}
	return c, nil
}

// compare orders two candidates; what does not exist comes last.
func compare(a, b *Candidate, by string) int {
	keys := map[string]func(*Candidate) float64{
		"level": func(c *Candidate) float64 { return -c.Sizing.Box.MaxLevel },
		"f3":    func(c *Candidate) float64 { return c.Sizing.Box.F3 },
		"gap":   func(c *Candidate) float64 { return c.Sizing.Gap.AsGiven() },
		"cost":  func(c *Candidate) float64 { return c.Sizing.Box.Cost },
	}
	rise := func(key string) int {
		x, y := keys[key](a), keys[key](b)
		if math.IsNaN(x) != math.IsNaN(y) {
			if math.IsNaN(x) {
				return 1
			}
			return -1
		}
		return cmp.Compare(x, y)
	}
	return cmp.Or(rise(by), rise("level"), rise("f3"), rise("gap"), cmp.Compare(a.File, b.File))
}

// CheckOrder returns an error for an unknown order.
func CheckOrder(by string) error {
	if !slices.Contains(Orders, by) {
		return fmt.Errorf("--by is %q: one of %s is needed", by, strings.Join(Orders, ", "))
	}
	return nil
}
