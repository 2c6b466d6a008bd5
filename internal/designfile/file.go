package designfile

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"gapline/cabinet/design"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/optional"
	"gapline/internal/schema"

	"github.com/BurntSushi/toml"
)

// MaxSize is the largest design file that is read, in bytes.
const MaxSize = 1 << 20

// File is a design file that has been read and checked.
type File struct {
	Name string
	Text string // as it was read, before any setting
	schema.Project
	// Refits are the lists that were made to fit the number of boxes of a setting.
	Refits []schema.Refit

	given map[string]int // line of each key that has a value, or fromSetting
	lines map[string]int // line of everything that the file holds
}

// The kinds of files, for messages, and where a design file comes from.
const (
	designKind = "a design file"
	driverKind = "a driver file"
	newHint    = " (gapline new FILE writes a starter)"
)

// Load reads and checks the design file called name, with settings of the form
// KEY=VALUE in place of the file's values. The error is of type Problems and
// lists every fault.
func Load(ctx context.Context, name string, settings []string) (*File, error) {
	data, err := readAll(ctx, name, designKind, newHint)
	if err != nil && name == "" {
		name = `""`
	}
	if err != nil {
		return nil, Problems{{Where: name, Text: err.Error()}}
	}
	return parse(ctx, name, data, settings)
}

// readAll reads a file of at most MaxSize bytes. hint says where a missing one
// would come from.
func readAll(ctx context.Context, name, what, hint string) ([]byte, error) {
	data, err := openfile.ReadAll(ctx, name, what, MaxSize)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("no such file" + hint)
	}
	return data, err
}

// Parse reads a design from text, as Load does from a file.
func Parse(name string, data []byte, settings []string) (*File, error) {
	return parse(context.Background(), name, data, settings)
}

// parse ends with ctx where the design names a driver file.
func parse(ctx context.Context, name string, data []byte, settings []string) (*File, error) {
	r, root, err := newReader(name, data, designKind, newHint)
	if err != nil {
		return nil, err
	}
	r.take(root)
	r.driverFiles(ctx, settings)
	r.settle()
	if slices.Contains(settings, Unlink) {
		r.file.Links = nil
	}
	r.settings(settings)
	r.finish()
	if len(r.problems) > 0 {
		return nil, r.problems.sorted()
	}
	return r.file, nil
}

// newReader checks that data is a TOML text and decodes it. what names the kind
// of file in messages, hint says where a good one comes from.
func newReader(name string, data []byte, what, hint string) (*reader, map[string]any, error) {
	fail := func(text string) (*reader, map[string]any, error) {
		return nil, nil, Problems{{Where: name, Text: text}}
	}
	whole := string(data)
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	switch {
	case len(data) > MaxSize:
		return fail(openfile.TooLarge(int64(len(data)), what, MaxSize).Error())
	case !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0:
		return fail("is not a text file: " + what + " is TOML in UTF-8")
	case len(bytes.TrimSpace(data)) == 0:
		return fail("is empty" + hint)
	}
	if line := tooDeep(string(data)); line > 0 {
		return nil, nil, Problems{{Where: name, Line: line, Text: fmt.Sprintf("lists, tables or dotted keys go deeper than %d levels: %s has tables of keys only", maxNesting, what)}}
	}
	r := &reader{
		file:  &File{Name: name, Text: whole, Project: schema.Project{Design: design.New()}, given: map[string]int{}},
		lines: keyLines(string(data)),
	}
	r.file.lines = r.lines
	var root map[string]any
	if _, err := toml.Decode(string(data), &root); err != nil {
		return nil, nil, Problems{syntaxProblem(name, string(data), err)}
	}
	return r, root, nil
}

// reader collects values and faults while a file is read.
type reader struct {
	file     *File
	lines    map[string]int
	problems Problems
	links    []schema.OpenLink
}

func (r *reader) fault(path, format string, args ...any) {
	r.problems = append(r.problems, Problem{
		Where: r.file.Name,
		Line:  r.lineOf(path),
		Text:  strings.TrimSpace(clip(path) + " " + fmt.Sprintf(format, args...)),
	})
}

// lineOf returns the line of a key, or of the nearest table around it.
func (r *reader) lineOf(path string) int {
	for {
		if n, ok := r.lines[path]; ok {
			return n
		}
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			return 0
		}
		path = path[:i]
	}
}

// take hands on the tables of a decoded design file.
func (r *reader) take(root map[string]any) {
	for _, name := range sortedKeys(root) {
		switch sub, isTable := root[name].(map[string]any); {
		case isTable && name == followTable:
			r.follow(sub)
		case isTable && name == toleranceTable:
			r.tolerances(sub)
		case isTable && name == searchTable:
			r.search(sub)
		case isTable && slices.Contains(tables(), name):
			for _, leaf := range sortedKeys(sub) {
				r.key(name+"."+leaf, sub[leaf])
			}
		case isTable:
			r.fault(name, "is an unknown table%s", schema.Suggest(schema.Nearest(name, tables()), "the tables are "+strings.Join(tables(), ", ")))
		case slices.Contains(tables(), name):
			r.fault(name, "is %s: it is a table, write [%s] on a line of its own", describe(root[name]), name)
		case strings.Contains(name, "."):
			r.fault(name, "is one word when it stands in quotes: write it without, or under its [table]")
		default:
			r.key(name, root[name])
		}
	}
}

// tables returns the tables of the file in order: those of keys and those that say
// what is asked of the design.
func tables() []string {
	return append(schema.Tables(), followTable, toleranceTable, searchTable)
}

func sortedKeys(m map[string]any) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// key reads one value.
func (r *reader) key(path string, raw any) {
	k := schema.FindKey(path)
	if k == nil {
		r.fault(path, "is an unknown key%s", schema.DidYouMean(path))
		return
	}
	v, err := fromTOML(k, raw)
	if err != nil {
		r.fault(path, "%s", err)
		return
	}
	r.put(v, r.lineOf(path))
}

func (r *reader) put(v schema.Value, line int) {
	// A pitch in the file is a value of its own, even beside a height.
	if v.Key.Path == "cabinet.pitch" {
		r.file.Design.Cabinet.Pitch = optional.Of(v.Number)
	} else {
		v.Apply(&r.file.Design)
	}
	r.file.given[v.Key.Path] = line
}

// Unlink among the settings sets the file's [follow] links aside.
const Unlink = "--unlink"

const (
	settingFlag = "--set"
	fromSetting = -1 // in place of a line
)

// settings puts the KEY=VALUE settings of the command line in place.
func (r *reader) settings(settings []string) {
	for _, s := range settings {
		if s == Unlink {
			continue
		}
		path, text, ok := strings.Cut(s, "=")
		path = strings.TrimSpace(path)
		k := schema.FindKey(path)
		switch {
		case !ok || path == "":
			r.flag("%q is not of the form KEY=VALUE", clip(s))
			continue
		case k == nil:
			r.flag("%s is an unknown key%s", clip(path), schema.DidYouMean(path))
			continue
		}
		if strings.TrimSpace(text) == schema.Cleared && k.Clear(&r.file.Design) {
			delete(r.file.given, path)
			r.unfollow(k)
			continue
		}
		v, err := k.FromText(strings.TrimSpace(text))
		if err != nil {
			r.flag("%s %s", path, err)
			continue
		}
		v.Apply(&r.file.Design)
		r.file.given[path] = fromSetting
		r.unfollow(k)
	}
}

// unfollow drops the links that would set the key.
func (r *reader) unfollow(k *schema.Key) {
	r.file.Links = slices.DeleteFunc(r.file.Links, func(l schema.Link) bool { return l.Target == k })
}

func (r *reader) flag(format string, args ...any) {
	r.problems = append(r.problems, Problem{Where: settingFlag, Text: fmt.Sprintf(format, args...)})
}

// finish lets the links act on what the settings changed and checks the design
// as a whole.
func (r *reader) finish() {
	d := &r.file.Design
	if len(r.file.given) == 0 && len(r.problems) == 0 {
		r.fault("", "gives no key: a design needs at least cabinet.height, line.boxes, horn.coverage and horn.mouth_width")
		return
	}
	for i := range r.file.Links {
		l := &r.file.Links[i]
		l.Apply(d)
		if err := l.Target.Accepts(l.Target.Number(d)); numeric.Given(l.Target.Number(d)) && err != nil {
			r.fault(followTable+"."+l.Target.Path, "%s", err)
		}
	}
	if r.isSet("line.boxes") {
		r.file.Refits = schema.Refitted(d, func(k *schema.Key) bool { return r.isSet(k.Path) })
	}
	r.checkTolerances()
	for _, p := range check.Design(d) {
		where, line := r.placeOf(p.Keys)
		r.problems = append(r.problems, Problem{Where: where, Line: line, Text: p.Text})
	}
}

// isSet reports whether a setting gives the key.
func (r *reader) isSet(path string) bool {
	n, ok := r.file.given[path]
	return ok && n == fromSetting
}

// placeOf returns where a problem with several keys comes from: the setting
// that changed one of them, else the line of the first that the file gives.
func (r *reader) placeOf(keys []string) (where string, line int) {
	for _, k := range keys {
		if r.isSet(k) {
			return settingFlag, 0
		}
	}
	for _, k := range keys {
		if n, ok := r.lines[k]; ok {
			return r.file.Name, n
		}
	}
	return r.file.Name, r.lineOf(keys[0])
}

// Problems turns faults that a command found in the design into the file's own,
// each with the line of the first of its keys that the file gives.
func (f *File) Problems(found []check.Problem) Problems {
	out := make(Problems, len(found))
	for i, p := range found {
		out[i] = Problem{Where: f.Name, Text: p.Text}
		for _, k := range p.Keys {
			if line := f.given[k]; line > 0 {
				out[i].Line = line
				break
			}
		}
	}
	return out
}

// Given reports whether the file or a setting gives the key.
func (f *File) Given(path string) bool {
	_, ok := f.given[path]
	return ok
}
