package screen

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/study/box"
	"gapline/internal/study/size"
)

// rankFigures are the columns of a ranking of drivers.
var rankFigures = []struct {
	fig  *figure.Def // nil: the gap of the design as given
	head string
}{
	{figure.BoxMaxSPL, "max level"}, {figure.BoxF3, "f3"}, {nil, "gap"}, {figure.BoxSweptVolume, "swept volume"}, {figure.BoxCost, "cost of box"},
}

// Rank writes a ranking of drivers as a table.
func Rank(w io.Writer, title string, r *box.Ranking, sys quantity.System) error {
	var b strings.Builder
	where := "each at its own f3"
	if numeric.Given(r.At) {
		where = "at " + quantity.Format(r.At, quantity.Frequency, sys)
	}
	if title == "" {
		title = "untitled design"
	}
	fmt.Fprintf(&b, "%s\ndrivers in this cabinet by %s; maximum level of one box %s, 1 m, half space\n", title, r.By, where)
	t := &Table{}
	head := []string{"   driver file"}
	for _, f := range rankFigures {
		head = append(head, f.head)
	}
	t.Row(append(head, "limit", "driver")...)
	for i := range r.Ranked {
		t.Row(rankRow(i, &r.Ranked[i], sys)...)
	}
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(advice.RankFindings(r), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

func rankRow(i int, c *box.Candidate, sys quantity.System) []string {
	mark := ""
	if len(c.Contradictions) > 0 {
		mark = " (?)"
	}
	row := []string{fmt.Sprintf("%2d %s%s", i+1, c.File, mark)}
	for _, f := range rankFigures {
		if f.fig == nil {
			row = append(row, OctaveText(c.Sizing.Gap.AsGiven()))
			continue
		}
		row = append(row, quantity.Format(size.Of(&c.Sizing, f.fig), f.fig.Kind, sys))
	}
	return append(row, c.Sizing.Box.Limit.String(), clipCell(c.Title))
}

// RankCSV writes a ranking as CSV in SI units.
func RankCSV(w io.Writer, r *box.Ranking) error {
	out := cleantext.NewCSV(w)
	if err := out.Write([]string{"rank", "file", "title", "max_spl_db", "max_spl_at_hz", "limit", "f3_hz", "gap_oct", "swept_volume_m3", "cost", "doubts"}); err != nil {
		return err
	}
	number := func(x float64) string {
		if !numeric.Given(x) {
			return ""
		}
		return strconv.FormatFloat(x, 'g', 9, 64)
	}
	for i := range r.Ranked {
		c := &r.Ranked[i]
		b := &c.Sizing.Box
		if err := out.Write([]string{strconv.Itoa(i + 1), c.File, c.Title, number(b.MaxLevel), number(b.LevelAt), b.Limit.String(),
			number(b.F3), number(c.Sizing.Gap.AsGiven()), number(b.SweptVolume), number(b.Cost), strings.Join(doubts(c), " ")}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// doubts are the contradictions of a driver's parameters, for programs.
func doubts(c *box.Candidate) []string {
	out := []string{}
	for _, t := range advice.Contradictions(c.Contradictions) {
		out = append(out, terminal.Text(t, quantity.Metric))
	}
	return out
}

// RankObject is the JSON of a ranking.
func RankObject(title string, r *box.Ranking) *Object {
	ranked := []*Object{}
	for i := range r.Ranked {
		c := &r.Ranked[i]
		b := &c.Sizing.Box
		o := &Object{}
		ranked = append(ranked, o.Set("file", c.File).Set("title", c.Title).Set("max_spl_db", Number(b.MaxLevel)).
			Set("max_spl_at_hz", Number(b.LevelAt)).Set("limit", b.Limit.String()).Set("f3_hz", Number(b.F3)).
			Set("gap_oct", Number(c.Sizing.Gap.AsGiven())).Set("swept_volume_m3", Number(b.SweptVolume)).
			Set("cost", Number(b.Cost)).Set("doubts", doubts(c)))
	}
	refused := []*Object{}
	for _, x := range r.Refused {
		o := &Object{}
		refused = append(refused, o.Set("file", x.File).Set("reasons", x.Reasons))
	}
	o := &Object{}
	return o.Set("schema_version", SchemaVersion).Set("title", title).Set("by", r.By).Set("at_hz", Number(r.At)).
		Set("drivers", ranked).Set("refused", refused).Set("findings", machine.Findings(advice.RankCautions()))
}
