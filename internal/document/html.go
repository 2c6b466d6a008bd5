package document

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"unicode/utf8"

	"gapline/internal/cleantext"
	"gapline/plots"
)

//go:embed page.html page.css
var files embed.FS

var page = template.Must(template.New("page.html").Funcs(template.FuncMap{
	"kind":   kind,
	"svg":    svg,
	"narrow": narrow,
	"wide":   func(t Table) bool { return t.characters(phoneFirst) > phoneCharacters },
	"broad":  func(t Table) bool { return t.characters(longestCell) > columnCharacters },
	"parts":  parts,
	"style":  style,
	"script": script,
	"left":   func(t Table, i int) bool { return t.left(i) },
	"label":  func(l List, i int) string { return l.Labels[i] },
}).ParseFS(files, "page.html"))

// kind names a block for the template.
func kind(b Block) string {
	switch b.(type) {
	case Heading:
		return "heading"
	case Text:
		return "text"
	case List:
		return "list"
	case Table:
		return "table"
	case Beside:
		return "beside"
	case Gallery:
		return "gallery"
	}
	return "picture"
}

// contentsPart is the sections of a part, for the contents.
type contentsPart struct {
	Name     string
	Sections []Section
}

// parts groups the sections.
func parts(sections []Section) []contentsPart {
	var out []contentsPart
	for _, s := range sections {
		if len(out) == 0 || out[len(out)-1].Name != s.Part.String() {
			out = append(out, contentsPart{Name: s.Part.String()})
		}
		last := &out[len(out)-1]
		last.Sections = append(last.Sections, s)
	}
	return out
}

// How many characters of a table stand side by side on a telephone, and in half of a
// wide window; there and here the first column wraps from so many on, and the others.
const (
	phoneCharacters, columnCharacters = 50, 78
	phoneFirst, longestCell           = 16, 30
)

// characters is about how many characters the widest row of a table takes; long texts
// wrap, those of the first column from so many characters on.
func (t *Table) characters(first int) int {
	widest := make([]int, len(t.Head))
	see := func(i int, text string) {
		longest := longestCell
		if i == 0 {
			longest = first
		}
		widest[i] = max(widest[i], min(utf8.RuneCountInString(text), longest))
	}
	for i, h := range t.Head {
		see(i, h)
	}
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			see(i, c.Text)
		}
	}
	sum := 2 * len(widest)
	for _, w := range widest {
		sum += w
	}
	return sum
}

// svg draws a picture; the writer escapes every text in it.
func svg(p Picture) (template.HTML, error) { return drawn(p.ID, p.Figure) }

// narrow draws it for a narrow column.
func narrow(p Picture) (template.HTML, error) { return drawn(p.ID+"-narrow", plots.Narrow(p.Figure)) }

func drawn(id string, fig plots.Figure) (template.HTML, error) {
	p := struct{ ID string }{id}
	var b bytes.Buffer
	if err := plots.WriteSVG(&b, id, fig); err != nil {
		return "", fmt.Errorf("picture %s: %w", p.ID, err)
	}
	return template.HTML(b.String()), nil
}

// style is the page's own style sheet.
func style() (template.CSS, error) {
	b, err := files.ReadFile("page.css")
	return template.CSS(b), err
}

// script is JSON inside a script element. encoding/json has escaped <, > and &, so
// that no text in it can end the element.
func script(d Data) (template.JS, error) {
	if bytes.ContainsAny(d.JSON, "<>") {
		return "", fmt.Errorf("data %s holds a bare < or >", d.ID)
	}
	return template.JS(d.JSON), nil
}

// WriteHTML writes the document as one page that loads nothing.
func (d *Document) WriteHTML(w io.Writer) error {
	out := cleantext.NewWriter(w)
	return errors.Join(page.Execute(out, d), out.Flush())
}
