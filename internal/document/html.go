package document

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"

	"gapline/internal/cleantext"
	"gapline/plots"
)

//go:embed page.html page.css
var files embed.FS

var page = template.Must(template.New("page.html").Funcs(template.FuncMap{
	"kind":   kind,
	"svg":    svg,
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
	}
	return "picture"
}

// svg draws a picture; the writer escapes every text in it.
func svg(p Picture) (template.HTML, error) {
	var b bytes.Buffer
	if err := plots.WriteSVG(&b, p.ID, p.Figure); err != nil {
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
