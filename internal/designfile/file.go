package designfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"gapline/cabinet"
	"gapline/internal/numeric"

	"github.com/BurntSushi/toml"
)

// MaxSize is the largest design file that is read, in bytes.
const MaxSize = 1 << 20

// File is a design file that has been read and checked.
type File struct {
	Name   string
	Text   string // as it was read, before any setting
	Design cabinet.Design
	Links  []Link // in the order in which they apply

	Tolerances *Tolerances // nil without [tolerance]
	Search     *Search     // nil without [search]

	given map[string]int // line of each key that has a value
	lines map[string]int // line of everything that the file holds
}

// Load reads and checks the design file called name, with settings of the form
// KEY=VALUE in place of the file's values. The error is of type Problems and
// lists every fault.
func Load(name string, settings []string) (*File, error) {
	data, err := readAll(name)
	if err != nil {
		return nil, Problems{{Where: name, Text: err.Error()}}
	}
	return Parse(name, data, settings)
}

// readAll reads a file of at most MaxSize bytes.
func readAll(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, plainError(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, plainError(err)
	}
	if info.IsDir() {
		return nil, errors.New("is a folder: a design file is needed")
	}
	if info.Mode().IsRegular() && info.Size() > MaxSize {
		return nil, tooLarge(info.Size())
	}
	data, err := io.ReadAll(io.LimitReader(f, MaxSize+1))
	if err != nil {
		return nil, plainError(err)
	}
	if len(data) > MaxSize {
		return nil, tooLarge(int64(len(data)))
	}
	return data, nil
}

// plainError takes the operation and the path off a file error; the caller
// names the file.
func plainError(err error) error {
	var pe *os.PathError
	switch {
	case errors.Is(err, os.ErrNotExist):
		return errors.New("no such file (gapline new FILE writes a starter)")
	case errors.As(err, &pe):
		return pe.Err
	}
	return err
}

func tooLarge(size int64) error {
	return fmt.Errorf("is %.1f MB: a design file has at most %d MB", float64(size)/(1<<20), MaxSize>>20)
}

// Parse reads a design from text, as Load does from a file.
func Parse(name string, data []byte, settings []string) (*File, error) {
	if len(data) > MaxSize {
		return nil, Problems{{Where: name, Text: tooLarge(int64(len(data))).Error()}}
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	switch {
	case !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0:
		return nil, Problems{{Where: name, Text: "is not a text file: a design file is TOML in UTF-8"}}
	case len(bytes.TrimSpace(data)) == 0:
		return nil, Problems{{Where: name, Text: "is empty (gapline new FILE writes a starter)"}}
	}
	r := reader{
		file:  &File{Name: name, Text: string(data), Design: cabinet.New(), given: map[string]int{}},
		lines: keyLines(string(data)),
	}
	r.file.lines = r.lines
	r.decode(string(data))
	if r.decoded {
		r.settle()
		r.settings(settings)
		r.finish()
	}
	if len(r.problems) > 0 {
		return nil, r.problems.sorted()
	}
	return r.file, nil
}

// reader collects values and faults while a file is read.
type reader struct {
	file     *File
	lines    map[string]int
	problems Problems
	links    []rawLink
	decoded  bool // the syntax was right
}

func (r *reader) fault(path, format string, args ...any) {
	r.problems = append(r.problems, Problem{
		Where: r.file.Name,
		Line:  r.lineOf(path),
		Text:  strings.TrimSpace(path + " " + fmt.Sprintf(format, args...)),
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

// decode reads the TOML and hands on its tables.
func (r *reader) decode(text string) {
	var root map[string]any
	if _, err := toml.Decode(text, &root); err != nil {
		r.syntax(err)
		return
	}
	r.decoded = true
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
			r.fault(name, "is an unknown table%s", didYouMean(Nearest(name, tables())))
		case slices.Contains(tables(), name):
			r.fault(name, "is %s: it is a table, write [%s] on a line of its own", describe(root[name]), name)
		default:
			r.key(name, root[name])
		}
	}
}

func (r *reader) syntax(err error) {
	var pe toml.ParseError
	if errors.As(err, &pe) {
		r.problems = append(r.problems, Problem{r.file.Name, pe.Position.Line, pe.Message})
		return
	}
	r.problems = append(r.problems, Problem{Where: r.file.Name, Text: strings.TrimPrefix(err.Error(), "toml: ")})
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
	k := FindKey(path)
	if k == nil {
		r.fault(path, "is an unknown key%s", didYouMean(nearestKey(path)))
		return
	}
	v, err := k.fromTOML(raw)
	if err != nil {
		r.fault(path, "%s", err)
		return
	}
	r.put(v, r.lineOf(path))
}

func (r *reader) put(v Value, line int) {
	// A pitch in the file is a value of its own, even beside a height.
	if v.Key.Path == "cabinet.pitch" {
		r.file.Design.Cabinet.Pitch = v.Number
	} else {
		v.Apply(&r.file.Design)
	}
	r.file.given[v.Key.Path] = line
}

// follow reads the [follow] table. Its keys may be quoted ("horn.mouth_width")
// or dotted.
func (r *reader) follow(table map[string]any) {
	flat := map[string]any{}
	for name, raw := range table {
		sub, ok := raw.(map[string]any)
		if _, isLink := sub["of"]; ok && !isLink && !strings.Contains(name, ".") {
			for leaf, inner := range sub {
				flat[name+"."+leaf] = inner
			}
			continue
		}
		flat[name] = raw
	}
	for _, path := range sortedKeys(flat) {
		l, err := linkFromTOML(path, flat[path])
		if err != nil {
			r.fault(followTable+"."+path, "%s", err)
			continue
		}
		r.links = append(r.links, l)
	}
}

// settings puts the KEY=VALUE settings of the command line in place.
func (r *reader) settings(settings []string) {
	for _, s := range settings {
		path, text, ok := strings.Cut(s, "=")
		path = strings.TrimSpace(path)
		k := FindKey(path)
		switch {
		case !ok:
			r.flag("%q is not of the form KEY=VALUE", s)
			continue
		case k == nil:
			r.flag("%s is an unknown key%s", path, didYouMean(nearestKey(path)))
			continue
		}
		v, err := k.FromText(strings.TrimSpace(text))
		if err != nil {
			r.flag("%s %s", path, err)
			continue
		}
		v.Apply(&r.file.Design)
		r.file.given[path] = 0
		r.file.Links = slices.DeleteFunc(r.file.Links, func(l Link) bool { return l.Target == k })
	}
}

func (r *reader) flag(format string, args ...any) {
	r.problems = append(r.problems, Problem{Where: "--set", Text: fmt.Sprintf(format, args...)})
}

// settle puts the links in order and fixes their offsets from the file's own
// values, before settings change any.
func (r *reader) settle() {
	sorted, circle := order(r.links)
	if circle != nil {
		r.fault(followTable+"."+circle[0], "follows itself in a circle: %s", strings.Join(circle, ", "))
		return
	}
	for i := range sorted {
		l := &sorted[i]
		if err := l.settle(&r.file.Design); err != nil {
			r.fault(followTable+"."+l.Target.Path, "%s", err)
			continue
		}
		l.Apply(&r.file.Design)
		r.file.Links = append(r.file.Links, l.Link)
	}
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
	r.checkTolerances()
	for _, p := range cabinet.Check(d) {
		r.problems = append(r.problems, Problem{r.file.Name, r.lineOfAny(p.Keys), p.Text})
	}
}

// lineOfAny returns the line of the first of the keys that the file gives.
func (r *reader) lineOfAny(keys []string) int {
	for _, k := range keys {
		if n, ok := r.lines[k]; ok {
			return n
		}
	}
	return 0
}

// Given reports whether the file or a setting gives the key.
func (f *File) Given(path string) bool {
	_, ok := f.given[path]
	return ok
}
