package live

import (
	"bytes"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/quantity"
	"gapline/internal/render/picture"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/plots"
)

// table is a table in texts.
type table struct {
	Caption string     `json:"caption"`
	Head    []string   `json:"head"`
	Rows    [][]string `json:"rows"`
	Keys    []string   `json:"keys"` // of the figures in the rows, where any
}

// shown is a result for people: what the page sets in paragraphs and tables.
type shown struct {
	Texts    []string  `json:"texts"`
	Tables   []table   `json:"tables"`
	Findings []finding `json:"findings"`
}

// finding is one sentence about the design.
type finding struct {
	Severity string `json:"severity"`
	Sign     string `json:"sign"`
	Key      string `json:"key"`
	Text     string `json:"text"`
}

// tableOf sets a table.
func tableOf(t *result.Table, sys quantity.System) table {
	out := table{Caption: terminal.Text(t.Title, sys), Head: []string{t.Labels}, Rows: [][]string{}, Keys: []string{}}
	if out.Head[0] == "" {
		out.Head[0] = "figure"
	}
	for _, c := range t.Columns {
		head := terminal.Text(c.Head, sys)
		if head == "" && c.Trust {
			head = "trust"
		}
		if head == "" {
			head = "value"
		}
		out.Head = append(out.Head, head)
	}
	for row := range t.Rows {
		texts := terminal.RowTexts(t, row, sys)
		texts[0] = strings.TrimSpace(texts[0])
		out.Rows, out.Keys = append(out.Rows, texts), append(out.Keys, row.Key)
	}
	return out
}

// findingsOf sets findings.
func findingsOf(list []result.Finding, sys quantity.System) []finding {
	out := []finding{}
	for _, f := range list {
		out = append(out, finding{Severity: f.Severity.String(), Sign: f.Severity.Sign(), Key: f.Key, Text: cleantext.Line(terminal.Text(f.Text, sys))})
	}
	return out
}

// shownOf sets a result as the screen shows it, of some views.
func shownOf(r *result.Result, sys quantity.System, views ...string) shown {
	out := shown{Texts: []string{}, Tables: []table{}, Findings: []finding{}}
	if !r.Untitled {
		for _, t := range r.Head {
			out.Texts = append(out.Texts, cleantext.Line(terminal.Text(t, sys)))
		}
	}
	out.add(r.Chosen(result.Choice{Place: result.Screen, Views: views}), "", sys)
	return out
}

func (s *shown) add(parts []result.Part, title string, sys quantity.System) {
	for _, part := range parts {
		switch x := part.(type) {
		case result.Section:
			s.add(x.Parts, terminal.Text(x.Title, sys), sys)
		case result.Table:
			t := tableOf(&x, sys)
			if t.Caption == "" {
				t.Caption, title = title, ""
			}
			s.Tables = append(s.Tables, t)
		case result.Prose:
			for _, p := range x.Texts {
				s.Texts = append(s.Texts, cleantext.Line(terminal.Text(p, sys)))
			}
		case result.Findings:
			s.Findings = append(s.Findings, findingsOf(x.List, sys)...)
		}
	}
}

// svg draws a part; empty where there is nothing to draw. id tells the pictures of a page
// apart.
func (s *Server) svg(id string, p result.Part, narrow bool) string {
	fig := picture.Figure(p, s.o.Units)
	if fig == nil {
		return ""
	}
	if narrow {
		fig = plots.Narrow(fig)
	}
	var b bytes.Buffer
	if plots.WriteSVG(&b, id, fig) != nil {
		return ""
	}
	return b.String()
}

// svgOf draws the first picture of a result that is of a view.
func (s *Server) svgOf(id string, r *result.Result, narrow bool, view string) string {
	for _, p := range drawn(r.Chosen(result.Choice{Place: result.Drawn, Views: []string{view}})) {
		if text := s.svg(id, p, narrow); text != "" {
			return text
		}
	}
	return ""
}

// drawn takes parts out of their sections.
func drawn(parts []result.Part) []result.Part {
	var out []result.Part
	for _, p := range parts {
		if s, ok := p.(result.Section); ok {
			out = append(out, drawn(s.Parts)...)
			continue
		}
		out = append(out, p)
	}
	return out
}
