package describe

import (
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/schema"
)

const sinceDesign = `[cabinet]
height = "268 mm"
gap = "4 mm"
[line]
boxes = 4
[woofer]
size = "9.5 in"
[horn]
coverage = "85 deg"
mouth_width = "%W"
[air]
temperature = "%T"
`

func sinceAt(t *testing.T, width, temperature, more string) Sized {
	return parse(t, strings.NewReplacer("%W", width, "%T", temperature).Replace(sinceDesign)+more)
}

func said(list []result.Text) string {
	var out []string
	for _, x := range list {
		out = append(out, terminal.Text(x, quantity.Metric))
	}
	return strings.Join(out, "\n")
}

// Keele's rule knows no air: its change is the width's alone, that of the half-wave rule,
// c/(2·p), the air's alone, and that of the gap between them both.
func TestSinceNamesTheKey(t *testing.T) {
	x := Since(sinceAt(t, "330 mm", "10 degC", ""), sinceAt(t, "300 mm", "30 degC", ""), nil, [2]string{"a", "b"})
	got := said(x.Sentences)
	for _, want := range []string{
		"Lower end of the horn, by rule 996 Hz, was 906 Hz: horn.mouth_width, 300 mm, was 330 mm.",
		": air.temperature, 30 °C, was 10 °C.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("it says\n%s\nwant %q", got, want)
		}
	}
	for _, line := range strings.Split(got, "\n") {
		if strings.HasPrefix(line, "Gap, by rule") && !strings.HasSuffix(line, ": horn.mouth_width and air.temperature together.") && !strings.HasSuffix(line, ": air.temperature and horn.mouth_width together.") {
			t.Errorf("the gap is not explained by both keys: %s", line)
		}
	}
}

// A link moves what follows its source along with it, and the source alone is named.
func TestSinceFollowsLinks(t *testing.T) {
	links := []schema.Link{{Target: schema.FindKey("horn.mouth_width"), Source: schema.FindKey("cabinet.height"), Factor: 1, Offset: 0.062}}
	then, now := sinceAt(t, "330 mm", "20 degC", ""), sinceAt(t, "330 mm", "20 degC", "")
	schema.FindKey("cabinet.height").SetNumber(now.Design, 0.258)
	links[0].Apply(now.Design) // 320 mm
	now = Sized{Design: now.Design, Sizing: sizedAgain(now.Design), Name: now.Name}
	got := said(Since(then, now, links, [2]string{"a", "b"}).Sentences)
	if want := "oct open: cabinet.height, 258 mm, was 268 mm."; !strings.Contains(got, want) {
		t.Errorf("it says\n%s\nwant %q", got, want)
	}
}

// Where no key and no table alone explains a figure, the few without each of which it would
// not be as now are named: the price of a box is that of its woofers and their number.
func TestSinceNamesSeveralTables(t *testing.T) {
	prices := "[cost]\nwoofer = 100\nhorn = 150\ncrossover = 40\n"
	then, now := sinceAt(t, "330 mm", "20 degC", prices), sinceAt(t, "330 mm", "20 degC", strings.Replace(prices, "100", "80", 1))
	schema.FindKey("woofer.per_box").SetNumber(now.Design, 2)
	now.Sizing = sizedAgain(now.Design)
	got := said(Since(then, now, nil, [2]string{"a", "b"}).Sentences)
	// 2·80 + 150 + 40 and 100 + 150 + 40
	if want := "Cost of one box 350, was 290: woofer.per_box and cost.woofer together."; !strings.Contains(got, want) {
		t.Errorf("it says\n%s\nwant %q", got, want)
	}
}

// Two designs that are alike have nothing to tell.
func TestSinceNothing(t *testing.T) {
	d := sinceAt(t, "330 mm", "20 degC", "")
	if x := Since(d, d, nil, [2]string{"a", "b"}); !x.None || len(x.Sentences) != 1 {
		t.Errorf("of one design with itself it says %q", said(x.Sentences))
	}
}

// What a design is better in than another is told with what the other has, and a draw is
// neither: prices of 100 + 150 + 40 against 120 + 150 + 40.
func TestAgainst(t *testing.T) {
	prices := "[cost]\nwoofer = 100\nhorn = 150\ncrossover = 40\n"
	dear := strings.Replace(prices, "100", "120", 1)
	a, b := sinceAt(t, "330 mm", "20 degC", prices), sinceAt(t, "330 mm", "20 degC", dear)
	a.Name, b.Name = "a", "b"
	better, worse := Against([]Weighed{{Sized: a}, {Sized: b}})
	if got, want := said(better), "than b in cost of one box (290, there 310)."; got != want || len(worse) > 0 {
		t.Errorf("better %q, want %q; worse %q, want none", got, want, said(worse))
	}
	better, worse = Against([]Weighed{{Sized: b}, {Sized: a}})
	if got, want := said(worse), "than a in cost of one box (310, there 290)."; got != want || len(better) > 0 {
		t.Errorf("worse %q, want %q; better %q, want none", got, want, said(better))
	}
}

func sizedAgain(d *design.Design) *sizing.Sizing {
	s := sizing.Size(d)
	return &s
}
