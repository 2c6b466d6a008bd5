package screen

import (
	"strings"
	"unicode"

	"gapline/internal/quantity"
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
