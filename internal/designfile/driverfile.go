package designfile

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/optional"
	"gapline/internal/schema"
)

// DriverKeys are the keys of a driver file: those of [woofer] that belong to the
// driver itself, its title, and its price.
var DriverKeys = []string{"title", "size", "effective_diameter", "fs", "qes", "qms", "qts", "vas", "re", "sd", "bl", "mms", "cms", "rms",
	"le", "le_exponent", "xmax", "power", "cost"}

// Driver is a driver file that has been read and checked.
type Driver struct {
	Name   string // of the file
	Title  string
	values []schema.Value
}

// LoadDriver reads and checks the driver file called name. The error is of type
// Problems and lists every fault.
func LoadDriver(ctx context.Context, name string) (*Driver, error) {
	return loadDriver(ctx, name, "woofer")
}

// loadDriver reads a driver for a table of the design: what only that table takes is right
// too.
func loadDriver(ctx context.Context, name, table string) (*Driver, error) {
	data, err := readAll(ctx, name, driverKind, "")
	if err != nil {
		return nil, Problems{{Where: name, Text: err.Error()}}
	}
	return parseDriver(name, data, table)
}

// ParseDriver reads a driver file from text. Its keys stand at the top, or under
// [woofer] as in a design file.
func ParseDriver(name string, data []byte) (*Driver, error) {
	return parseDriver(name, data, "woofer")
}

func parseDriver(name string, data []byte, of string) (*Driver, error) {
	r, root, err := newReader(name, data, driverKind, "")
	if err != nil {
		return nil, err
	}
	d := &Driver{Name: name}
	for _, leaf := range sortedKeys(root) {
		if table, ok := root[leaf].(map[string]any); ok && leaf == "woofer" {
			for _, inner := range sortedKeys(table) {
				r.driverKey(d, "woofer."+inner, inner, of, table[inner])
			}
			continue
		}
		r.driverKey(d, leaf, leaf, of, root[leaf])
	}
	if len(d.values) == 0 && len(r.problems) == 0 {
		r.fault("", "gives no parameter: a driver file needs keys such as fs, qes, qms, vas, re and sd")
	}
	if len(r.problems) > 0 {
		return nil, r.problems.sorted()
	}
	return d, nil
}

// driverKey reads one value for a table of the design; path is where it stands in the file.
func (r *reader) driverKey(d *Driver, path, leaf, table string, raw any) {
	if !slices.Contains(DriverKeys, leaf) {
		hint := schema.Suggest(schema.Nearest(leaf, DriverKeys), "")
		if schema.FindKey("woofer."+leaf) != nil {
			hint = ": it belongs into the design file"
		}
		r.fault(path, "is not a key of a driver file%s", hint)
		return
	}
	k := driverKey(leaf)
	v, err := fromTOML(k, raw)
	if own := inTable(k, table); err != nil && own != nil {
		if there, e := fromTOML(own, raw); e == nil {
			v, err = there, nil
			v.Key = k
		}
	}
	switch {
	case err != nil:
		r.fault(path, "%s", err)
	case leaf == "title":
		d.Title = v.Text
	case slices.ContainsFunc(d.values, func(x schema.Value) bool { return x.Key == k }):
		r.fault(path, "is given twice, at the top and under [woofer]")
	default:
		d.values = append(d.values, v)
	}
}

// driverKey returns the design file's key that a driver file's key stands for.
func driverKey(leaf string) *schema.Key {
	switch leaf {
	case "title":
		return schema.FindKey("title")
	case "cost":
		return schema.FindKey("cost.woofer")
	}
	return schema.FindKey("woofer." + leaf)
}

// Put makes the driver the woofer of d in place of the one that d has. Number,
// spacing and wiring stay.
func (w *Driver) Put(d *design.Design) {
	d.Woofer.Parameters, d.Woofer.Title, d.Woofer.File = driver.Parameters{}, w.Title, w.Name
	d.Cost.Woofer = optional.Float{}
	for _, v := range w.values {
		v.Apply(d)
	}
}

// driverFiles reads the driver files that the design or a setting names and puts in
// those of their values that neither the file nor, later, a setting overrides.
func (r *reader) driverFiles(ctx context.Context, settings []string) {
	d := &r.file.Design
	r.driverFile(ctx, settings, "woofer", &d.Woofer.File, &d.Woofer.Title)
	r.driverFile(ctx, settings, "mid", &d.Mid.File, &d.Mid.Title)
}

// driverFile reads that of one table; file and title are where the design keeps its name
// and the driver's.
func (r *reader) driverFile(ctx context.Context, settings []string, table string, file, title *string) {
	d, key := &r.file.Design, table+".file"
	for _, s := range settings {
		if path, text, ok := strings.Cut(s, "="); ok && strings.TrimSpace(path) == key {
			*file = strings.TrimSpace(text)
		}
	}
	if *file == "" {
		return
	}
	path := *file
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(r.file.Name), path)
	}
	w, err := loadDriver(ctx, path, table)
	if err != nil {
		faults := err.(Problems)
		if len(faults) == 1 && faults[0].Line == 0 {
			r.fault(key, "= %q %s", clip(*file), faults[0].Text)
			return
		}
		r.problems = append(r.problems, faults...)
		return
	}
	*title = w.Title
	for _, v := range w.values {
		v.Key = inTable(v.Key, table)
		if err := v.Check(); err != nil {
			r.fault(key, "= %q: %s %s", clip(*file), v.Key.Path, err)
			continue
		}
		if _, given := r.file.given[v.Key.Path]; !given {
			v.Apply(d)
			r.file.given[v.Key.Path] = 0
		}
	}
}

// inTable is the key of the given table that stands for a driver's key of [woofer].
func inTable(k *schema.Key, table string) *schema.Key {
	leaf := strings.TrimPrefix(k.Path, "woofer.")
	if k.Path == "cost.woofer" {
		return schema.FindKey("cost." + table)
	}
	return schema.FindKey(table + "." + leaf)
}
