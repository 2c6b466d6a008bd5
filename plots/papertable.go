package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

// PaperTable is a table with a caption, heads of columns, and rows whose first
// cell names the row.
type PaperTable struct {
	Caption string
	Head    []string
	Left    []bool // columns set left; the first one always is
	Rows    [][]string
	Dense   bool // set small, where a page must hold much
}

// Room around the cells of a table, and the lines of one cell: a row must fit on
// a page.
const (
	cellGap       vg.Length = 10
	rowGap        vg.Length = 4
	denseSize     vg.Length = 7.6
	denseGap      vg.Length = 2.2
	wholeTable    vg.Length = 150 // rows of a table up to this height stay on one page
	mostCellLines           = 50
)

// Table adds a table. Rows are kept whole; the heads are repeated on each page.
func (p *Paper) Table(t PaperTable) {
	tb := paperTable{Paper: p, t: t, size: cellSize, gap: rowGap}
	if t.Dense {
		tb.size, tb.gap = denseSize, denseGap
	}
	tb.widths = columnWidths(t, tb.size, p.width)
	head := tb.row(t.Head, true)
	rows := make([]tableRow, len(t.Rows))
	var all vg.Length
	for i, cells := range t.Rows {
		rows[i] = tb.row(cells, false)
		all += rows[i].height
	}
	caption := wrap(t.Caption, bodySize, true, p.width, 0)
	above := bodySize*lineSpacing*vg.Length(len(caption)) + 2 + head.height
	if all > wholeTable {
		all = 0
		for _, r := range rows[:min(3, len(rows))] {
			all += r.height
		}
		all = min(all, wholeTable)
	}
	p.start(above + all)
	table := p.root.add("Table")
	if len(caption) > 0 {
		p.setLines(table.add("Caption"), caption, p.left, label{size: bodySize, bold: true, color: ink})
	}
	p.y += 2
	tb.set(table.add("TR"), head)
	for i, r := range rows {
		needs := r.height
		if i == len(rows)-2 {
			needs += rows[i+1].height // the last row does not stand alone
		}
		if p.room() < needs && !p.fresh() && !p.fixed {
			p.turn()
			tb.set(nil, head) // repeated: for the eye only
		}
		tb.set(table.add("TR"), r)
	}
	p.y += paraGap + 3
}

type paperTable struct {
	*Paper
	t         PaperTable
	size, gap vg.Length // of the cells, and between the rows
	widths    []vg.Length
}

// tableRow is a row with its cells wrapped.
type tableRow struct {
	cells  [][]string
	head   bool
	height vg.Length
}

func (t *paperTable) row(cells []string, head bool) tableRow {
	r := tableRow{head: head}
	most := 1
	for i, text := range cells {
		lines := wrap(text, t.size, head, t.widths[i], mostCellLines)
		r.cells = append(r.cells, lines)
		most = max(most, len(lines))
	}
	r.height = vg.Length(most)*t.size*lineSpacing + t.gap
	return r
}

// set draws a row as the content of a TR tag; nil leaves it out of the structure.
func (t *paperTable) set(tr *tag, r tableRow) {
	x := t.left
	for i, lines := range r.cells {
		var done func()
		switch {
		case tr == nil:
			done = t.artifact()
		case r.head:
			done = t.mark(tr.addHead("Column"))
		case i == 0:
			done = t.mark(tr.addHead("Row"))
		default:
			done = t.mark(tr.add("TD"))
		}
		t.cell(lines, x, i, r.head)
		done()
		x += t.widths[i] + cellGap
	}
	t.y += r.height
	line := stroke{color: gridMajor, width: 0.4}
	if r.head {
		line = stroke{color: frameInk, width: 0.8}
	}
	done := t.artifact()
	at := paperHeight - t.y + t.gap/2
	t.page().line(line, t.left, at, x-cellGap, at)
	done()
}

// cell sets the lines of one cell.
func (t *paperTable) cell(lines []string, x vg.Length, column int, head bool) {
	align := 1.0
	if column == 0 || column < len(t.t.Left) && t.t.Left[column] {
		align = 0
	}
	x += t.widths[column] * vg.Length(align)
	for j, text := range lines {
		t.page().text(label{text: text, at: vg.Point{X: x, Y: paperHeight - t.y - vg.Length(j)*t.size*lineSpacing},
			alignX: align, alignY: 1, size: t.size, bold: head, color: ink, runsOn: j < len(lines)-1})
	}
}

// columnWidths gives every column what its longest text takes, and shares what
// there is where that is too much: narrow columns first, the rest alike.
func columnWidths(t PaperTable, size, width vg.Length) []vg.Length {
	n := len(t.Head)
	natural := make([]vg.Length, n)
	for i, text := range t.Head {
		natural[i] = textWidth(clean(text), size, true)
	}
	for _, row := range t.Rows {
		for i, text := range row {
			natural[i] = max(natural[i], textWidth(clean(text), size, false))
		}
	}
	left := width - cellGap*vg.Length(n-1)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if natural[a] < natural[b] {
			return -1
		}
		return 1
	})
	out := make([]vg.Length, n)
	for k, i := range order {
		out[i] = min(natural[i]+0.5, left/vg.Length(n-k))
		left -= out[i]
	}
	return out
}
