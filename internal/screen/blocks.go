package screen

import (
	"strings"
	"unicode"

	"gapline/cabinet/design"
	"gapline/internal/quantity"
	"gapline/internal/study/trace"
)

// Block is one titled part of a screen's table, for documents that set tables
// themselves: the same cells that the command prints.
type Block struct {
	Title string
	Head  []string // of every column
	Rows  [][]string
}

// Blocks splits a table at its titles, which stand at the left edge while figures
// are indented.
func (t *Table) Blocks() []Block {
	var out []Block
	for _, row := range t.rows {
		switch {
		case len(row) == 0:
		case len(out) == 0 || !strings.HasPrefix(row[0], "  ") && !strings.HasPrefix(row[0], "> "):
			out = append(out, Block{Title: sentence(row[0]), Head: row[1:]})
		default:
			b := &out[len(out)-1]
			b.Rows = append(b.Rows, append([]string{strings.TrimSpace(strings.TrimPrefix(row[0], ">"))}, row[1:]...))
		}
	}
	var kept []Block
	var before []string
	for _, b := range out {
		if b.settle(before); len(b.Rows) > 0 {
			kept = append(kept, b)
		}
		before = b.Head
	}
	return kept
}

// settle gives every column a head and every row its full width.
func (b *Block) settle(before []string) {
	n := len(b.Head) + 1
	for _, row := range b.Rows {
		n = max(n, len(row))
	}
	if len(b.Head) == 0 && len(before) == n {
		b.Head = before[1:]
	}
	head := []string{b.firstHead()}
	for i := 1; i < n; i++ {
		text := ""
		if i <= len(b.Head) {
			text = b.Head[i-1]
		}
		switch {
		case text != "":
		case i == n-1 && len(b.Head) == 0 && n > 2:
			text = "trust"
		default:
			text = "value"
		}
		head = append(head, text)
	}
	b.Head = head
	for i, row := range b.Rows {
		b.Rows[i] = append(row, make([]string, n-len(row))...)
	}
}

// firstHead names what the rows are.
func (b *Block) firstHead() string {
	for _, row := range b.Rows {
		if !strings.HasSuffix(row[0], "Hz") {
			return "figure"
		}
	}
	return "frequency"
}

// sentence turns "LOWER LIMIT, set by" into "Lower limit, set by".
func sentence(title string) string {
	words := strings.Fields(title)
	for i, w := range words {
		if strings.IndexFunc(w, unicode.IsLower) >= 0 {
			break
		}
		words[i] = strings.ToLower(w)
	}
	text := []rune(strings.Join(words, " "))
	if len(text) > 0 {
		text[0] = unicode.ToUpper(text[0])
	}
	return string(text)
}

// conditions are the lines of a heading after the title.
func conditions(heading string) string {
	_, rest, _ := strings.Cut(strings.TrimSpace(heading), "\n")
	var parts []string
	for _, line := range strings.Split(rest, "\n") {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			parts = append(parts, line)
		}
	}
	return strings.Join(parts, "; ")
}

// Blocks are the tables of the tolerance command and what was sampled.
func (v *ToleranceView) Blocks(sys quantity.System) (string, []Block) {
	var out []Block
	for _, rows := range []func(*Table, quantity.System){v.targetRows, v.effectRows, v.figureRows} {
		t := &Table{}
		rows(t, sys)
		out = append(out, t.Blocks()...)
	}
	return v.sampleText(), out
}

// TraceBlocks are the statistics of the trace command, a table for each trace and
// pair, with the limits beside a pair's.
func TraceBlocks(v *trace.Overlay, sys quantity.System) (string, []Block) {
	var out []Block
	for i := range v.Curves {
		c := &v.Curves[i]
		what := "level, octave"
		if c.Difference != nil {
			what = "minus " + v.Reference + ", octave"
		}
		if c.Octaves != nil {
			out = append(out, octaveBlock("Trace "+c.Name, what, bandRows(what, c.Octaves, c.Difference != nil, sys)))
		}
	}
	for i := range v.Pairs {
		p := &v.Pairs[i]
		name := "Pair " + pairName(p)
		if t := limitRows(p, sys); t != nil {
			out = append(out, octaveBlock(name+": predicted limits", "limit", t))
		}
		out = append(out, octaveBlock(name, "difference, octave", bandRows("difference, octave", p.Octaves, true, sys)))
	}
	return conditions(traceHeading(&design.Design{}, v, sys)), out
}

// octaveBlock is a table whose title row is its head.
func octaveBlock(title, first string, t *Table) Block {
	b := Block{Title: title, Head: append([]string{first}, t.rows[0][1:]...)}
	for i, text := range b.Head {
		if text == "" {
			b.Head[i] = "value"
		}
	}
	for _, row := range t.rows[1:] {
		b.Rows = append(b.Rows, append([]string{strings.TrimSpace(row[0])}, row[1:]...))
	}
	return b
}
