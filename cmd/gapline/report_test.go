package main

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// element is an element of a page with its parents' text gathered up.
type element struct {
	name string
	attr map[string]string
	text string
	kids []*element
}

// walk visits an element and all below it, in order.
func (e *element) walk(visit func(*element)) {
	visit(e)
	for _, k := range e.kids {
		k.walk(visit)
	}
}

// all returns the elements of a name.
func (e *element) all(name string) []*element {
	var out []*element
	e.walk(func(x *element) {
		if x.name == name {
			out = append(out, x)
		}
	})
	return out
}

// parsePage reads an HTML page that keeps to lower case and quotes, as the
// report's template does.
func parsePage(t *testing.T, page []byte) *element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	root := &element{name: "page"}
	stack := []*element{root}
	for {
		token, err := d.Token()
		if err == io.EOF {
			return root
		}
		if err != nil {
			t.Fatalf("the page cannot be parsed: %v", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			top := stack[len(stack)-1]
			top.kids = append(top.kids, e)
			stack = append(stack, e)
		case xml.EndElement:
			done := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			stack[len(stack)-1].text += done.text
		case xml.CharData:
			stack[len(stack)-1].text += string(x)
		}
	}
}

// reported writes the report of a command line and returns both files.
func reported(t *testing.T, args ...string) (page, pdf []byte) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "review")
	args = append([]string{"report", "-o", dir, "--quiet"}, args...)
	if code, _, errOut := gapline(args...); code != exitDone {
		t.Fatalf("gapline %s: exit %d, %s", strings.Join(args, " "), code, errOut)
	}
	page, err := os.ReadFile(filepath.Join(dir, reportHTML))
	if err != nil {
		t.Fatal(err)
	}
	if pdf, err = os.ReadFile(filepath.Join(dir, reportPDF)); err != nil {
		t.Fatal(err)
	}
	return page, pdf
}

// flat turns nested objects into dotted keys; lists are left out.
func flat(prefix string, o map[string]any, into map[string]any) {
	for k, v := range o {
		key := strings.TrimPrefix(prefix+"."+k, ".")
		switch x := v.(type) {
		case map[string]any:
			flat(key, x, into)
		case float64, nil:
			into[key] = x
		}
	}
}

// scales are units as the page shows them, over those that the keys name.
var scales = map[string]float64{"": 1, "Hz": 1, "kHz": 1e3, "mm": 1e-3, "m": 1, "m/s": 1, "kg/m³": 1, "dB": 1, "oct": 1, "°": 1, "L": 1e-3, "%": 1e-2}

// shownAs reports whether a text of the page shows the value of its key, to the
// digits that it has.
func shownAs(text string, want any) bool {
	switch text {
	case "-", "∞", "no limit", "unlimited overlap", "over 180°":
		return want == nil
	}
	x, isNumber := want.(float64)
	switch {
	case !isNumber:
		return false
	case text == "no lobe":
		return x <= -100
	case text == "flat":
		return x == 0
	case strings.HasSuffix(text, " overlap"):
		x = -x
	}
	text, _, _ = strings.Cut(text, " at ")
	number, unit, _ := strings.Cut(text, " ")
	if bare, isDegrees := strings.CutSuffix(number, "°"); isDegrees {
		number, unit = bare, "°"
	}
	unit = strings.TrimSuffix(strings.TrimSuffix(unit, " overlap"), " open")
	got, err := strconv.ParseFloat(strings.Replace(number, "−", "-", 1), 64)
	scale, known := scales[unit]
	if err != nil || !known {
		return false
	}
	_, decimals, _ := strings.Cut(number, ".")
	return math.Abs(got*scale-x) <= 0.5000001*scale*math.Pow(10, -float64(len(decimals)))
}

func TestShownAs(t *testing.T) {
	for _, c := range []struct {
		text string
		want any
		ok   bool
	}{
		{"1274 Hz", 1274.4, true}, {"1274 Hz", 1275.0, false}, {"12.7 kHz", 12740.0, true}, {"-", nil, true}, {"-", 1.0, false},
		{"0.31 oct overlap", -0.311, true}, {"0.31 oct open", -0.311, false}, {"55° at 1717 Hz", 55.02, true}, {"1904 mm", 1.904, true}, {"7 furlong", 7.0, false}, {"−2.7 dB", -2.71, true}, {"−2.7 dB", 2.71, false},
	} {
		if got := shownAs(c.text, c.want); got != c.ok {
			t.Errorf("shownAs(%q, %v) = %v", c.text, c.want, got)
		}
	}
}

// Every figure of the page is the one of size --json, as a value and as a text, and
// no figure is left out.
func TestReportShowsTheNumbersOfSize(t *testing.T) {
	if testing.Short() {
		t.Skip("writes the document of every starter")
	}
	insert, bare, mids := starterFile(t, "hatch-insert"), starterFile(t, "hatch"), starterFile(t, "hatch-mids")
	for _, args := range [][]string{
		{insert, bare, mids, "--since", bare},
		{mids},
		{bare, "--set", "targets.coupling=lobe"},
		{file(t, "[cabinet]\nheight = \"250 mm\"\n")},
	} {
		page, _ := reported(t, args...)
		root := parsePage(t, page)
		names, settings := dataOf(args)
		wanted := map[string]map[string]any{}
		for _, s := range root.all("script") {
			_, out, _ := gapline(append([]string{"size", "--json", names[s.attr["id"]]}, settings...)...)
			if s.text != out {
				t.Errorf("%v: data %s is not what size --json prints", args, s.attr["id"])
			}
			var o map[string]any
			if err := json.Unmarshal([]byte(s.text), &o); err != nil {
				t.Fatal(err)
			}
			wanted[s.attr["id"]] = map[string]any{}
			flat("", o, wanted[s.attr["id"]])
		}
		if len(wanted) != len(names) {
			t.Errorf("%v: data of %d designs, want %d", args, len(wanted), len(names))
		}
		checkCells(t, strings.Join(args, " "), root, wanted)
	}
}

// dataOf names the file that each of the page's data belongs to, and the settings.
func dataOf(args []string) (names map[string]string, settings []string) {
	names = map[string]string{}
	for i, a := range args {
		switch {
		case a == "--set":
			settings = args[i : i+2]
		case i > 0 && args[i-1] == "--since":
			names["size-since"] = a
		case strings.HasSuffix(a, ".toml"):
			names["size-"+strconv.Itoa(len(names)+1)] = a
		}
	}
	return names, settings
}

// checkCells compares every cell with a key, and looks for figures without a cell.
func checkCells(t *testing.T, what string, root *element, wanted map[string]map[string]any) {
	t.Helper()
	seen := map[string]bool{}
	count := 0
	for _, cell := range root.all("td") {
		key, has := cell.attr["data-key"]
		if !has {
			continue
		}
		count++
		want := wanted[cell.attr["data-in"]][key]
		var got any
		if err := json.Unmarshal([]byte(cell.attr["data-value"]), &got); err != nil || got != want {
			t.Errorf("%s: %s has the value %s, size --json %v", what, key, cell.attr["data-value"], want)
		}
		null := want == 60.0 && strings.HasPrefix(cell.text, "null") // a dip is held at 60 dB
		if !shownAs(cell.text, want) && !strings.HasPrefix(cell.text, "beyond ") && !null {
			t.Errorf("%s: %s is shown as %q, size --json has %v", what, key, cell.text, want)
		}
		if cell.attr["data-in"] == "size-1" {
			seen[key] = true
		}
	}
	for key, v := range wanted["size-1"] {
		if v != nil && key != "schema_version" && !seen[key] {
			t.Errorf("%s: %s is not in the document", what, key)
		}
	}
	if count == 0 {
		t.Errorf("%s: no cell has a key", what)
	}
}

// smallDesign gives what the gap needs, and little else, so that its report is
// quick.
const smallDesign = `title = "small"
[cabinet]
height = "268 mm"
width  = "620 mm"
depth  = "430 mm"
[line]
boxes = 3
[woofer]
size = "9.5 in"
[horn]
coverage     = "85 deg"
mouth_width  = "330 mm"
[targets]
lowest = "500 Hz"
`

// The verdict's sentences are the findings of size.
func TestReportVerdictIsThatOfSize(t *testing.T) {
	name := file(t, smallDesign)
	page, _ := reported(t, name)
	root := parsePage(t, page)
	var got []string
	for _, p := range root.all("p") {
		if _, isFinding := p.attr["data-about"]; isFinding {
			got = append(got, p.text)
		}
	}
	var want []string
	list, _ := at(object(t, "size", name), "findings")
	for _, x := range list.([]any) {
		f := x.(map[string]any)
		switch f["severity"] {
		case "miss":
			want = append(want, "Missed: "+f["text"].(string))
		case "met":
			want = append(want, "Met: "+f["text"].(string))
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") || len(want) == 0 {
		t.Errorf("verdict\n%q, want\n%q", got, want)
	}
}

// The bytes depend on the input only.
func TestReportIsDeterministic(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0)) // --jobs sets it
	name := starterFile(t, "hatch-insert")
	page, pdf := reported(t, name)
	again, pdfAgain := reported(t, name, "--jobs", "1")
	if !bytes.Equal(page, again) {
		t.Error("two runs give different pages")
	}
	if !bytes.Equal(pdf, pdfAgain) {
		t.Error("two runs give different PDFs")
	}
}

// The page loads nothing, its headings fall by one level at a time, every id is
// unique and every link goes somewhere, pictures have text alternatives and tables
// captions and heads.
func TestReportPage(t *testing.T) {
	page, _ := reported(t, starterFile(t, "hatch-insert"), starterFile(t, "hatch"))
	for _, banned := range []string{"http:", "https:", "<iframe", "@import", "url(", "javascript:", "onload"} {
		text := strings.ReplaceAll(string(page), "http://www.w3.org/2000/svg", "")
		if strings.Contains(text, banned) {
			t.Errorf("the page holds %q", banned)
		}
	}
	root := parsePage(t, page)
	ids, level := map[string]bool{}, 0
	root.walk(func(e *element) {
		if id, has := e.attr["id"]; has {
			if ids[id] {
				t.Errorf("id %s stands twice", id)
			}
			ids[id] = true
		}
		if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
			if n := int(e.name[1] - '0'); n > level+1 {
				t.Errorf("heading %q of level %d follows one of level %d", e.text, n, level)
			}
			level = int(e.name[1] - '0')
		}
	})
	for _, a := range root.all("a") {
		if to := a.attr["href"]; !strings.HasPrefix(to, "#") || !ids[to[1:]] {
			t.Errorf("link to %q goes nowhere", to)
		}
	}
	pictures := root.all("svg")
	for _, svg := range pictures {
		title, desc := svg.all("title"), svg.all("desc")
		if svg.attr["role"] != "img" || len(title) != 1 || len(desc) != 1 || title[0].text == "" || len(desc[0].text) < 20 {
			t.Errorf("a picture lacks its text alternative: %v", svg.attr)
		}
	}
	for _, table := range root.all("table") {
		if caption := table.all("caption"); len(caption) != 1 || caption[0].text == "" {
			t.Error("a table lacks its caption")
		}
		checkTable(t, table)
	}
	if len(pictures) < 20 || len(root.all("table")) < 20 {
		t.Errorf("%d pictures and %d tables: where are the others?", len(pictures), len(root.all("table")))
	}
}

// checkTable wants heads with a scope and rows of one width.
func checkTable(t *testing.T, table *element) {
	t.Helper()
	width := 0
	for i, row := range table.all("tr") {
		heads := row.all("th")
		if len(heads) == 0 || heads[0].text == "" || heads[0].attr["scope"] == "" {
			t.Errorf("row %d of %q has no head", i, table.all("caption")[0].text)
		}
		n := len(heads) + len(row.all("td"))
		if i == 0 {
			width = n
		}
		if n != width {
			t.Errorf("row %d of %q has %d cells, its head %d", i, table.all("caption")[0].text, n, width)
		}
	}
}

// Words from the file are words on the page, whatever they look like.
func TestReportEscapes(t *testing.T) {
	hostile := `</script><script>alert(1)</script><b>{{.}}&amp;`
	text := "title = '" + hostile + "'\n[cabinet]\nheight = \"250 mm\"\n[review]\nquestion = '" + hostile + "'\nauthor = '" + hostile + "'\n"
	page, _ := reported(t, file(t, text), "--set", "review.revision="+hostile)
	if bytes.Contains(page, []byte("<script>")) || bytes.Contains(page, []byte("<b>")) {
		t.Error("markup of the file stands in the page")
	}
	root := parsePage(t, page)
	if got, want := root.all("h1")[0].text, "Design review: "+hostile; got != want {
		t.Errorf("heading %q, want %q", got, want)
	}
	if n := len(root.all("script")); n != 1 {
		t.Errorf("%d script elements, want the one of the data", n)
	}
}

// Sections whose data the file does not give are left out, and each is accounted for in
// the list of what the document does not hold.
func TestReportSaysWhatIsMissing(t *testing.T) {
	bits := file(t, "[cabinet]\nheight = \"250 mm\"\n")
	o := object(t, "report", bits)
	var ids []string
	for _, s := range list(t, o, "sections") {
		ids = append(ids, s.(map[string]any)["id"].(string))
	}
	if got, want := strings.Join(ids, " "), "question verdict tradeoff decision why why-not next strip wave drawing figures formulas design methods sources absent cautions"; got != want {
		t.Errorf("sections of a sparse file are %q, want %q", got, want)
	}
	absent := ""
	for _, x := range list(t, o, "absent") {
		absent += x.(string) + "\n"
	}
	for _, want := range []string{"No alternatives", "No earlier revision", "low end of the box", "no insert", "horn is not worked out", "no folded path",
		"field is not worked out", "crossover is not worked out", "[tolerance]", "--trace"} {
		if !strings.Contains(absent, want) {
			t.Errorf("what the document does not hold is\n%snothing of %q", absent, want)
		}
	}
	missing := ""
	for _, x := range list(t, o, "missing") {
		missing += x.(string) + " "
	}
	if want := "question verdict decision why wave cautions "; missing != want {
		t.Errorf("sections that miss something are %q, want %q", missing, want)
	}
}

// list is the array at a key.
func list(t *testing.T, o map[string]any, key string) []any {
	t.Helper()
	v, _ := at(o, key)
	out, ok := v.([]any)
	if !ok {
		t.Fatalf("%s is no list", key)
	}
	return out
}

// numbersIn are the numbers of a text, as they are written there.
var numberPattern = regexp.MustCompile(`\d+(?:[.,]\d+)*`)

// gather adds every text of a JSON value, keys left out, to b.
func gather(v any, b *strings.Builder) {
	switch x := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(x)) {
			gather(x[k], b)
		}
	case []any:
		for _, y := range x {
			gather(y, b)
		}
	case string:
		b.WriteString(x + "\n")
	}
}

// report --json holds the sections of the page in its order, and every number that the
// page shows stands there as the page writes it.
func TestReportObjectHoldsThePage(t *testing.T) {
	name, other := starterFile(t, "hatch-insert"), file(t, smallDesign)
	args := []string{name, other, "--since", other, "--trace", "../../testdata/measured/box-insert.txt"}
	page, _ := reported(t, args...)
	root := parsePage(t, page)
	o := object(t, append([]string{"report"}, args...)...)
	var ids, shown []string
	for _, s := range list(t, o, "sections") {
		ids = append(ids, s.(map[string]any)["id"].(string))
	}
	for _, s := range root.all("section") {
		shown = append(shown, s.attr["aria-labelledby"])
	}
	if strings.Join(ids, " ") != strings.Join(shown, " ") {
		t.Errorf("JSON has the sections %q, the page %q", ids, shown)
	}
	var b strings.Builder
	gather(o["sections"], &b)
	held := map[string]bool{}
	for _, n := range numberPattern.FindAllString(b.String(), -1) {
		held[n] = true
	}
	count := 0
	for _, s := range root.all("section") {
		for _, n := range numberPattern.FindAllString(spaced(s), -1) {
			count++
			if !held[n] {
				t.Errorf("section %s: the page shows %s, JSON does not", s.attr["aria-labelledby"], n)
			}
		}
	}
	if count < 3000 {
		t.Errorf("%d numbers on the page: where are the others?", count)
	}
}

// spaced is an element's text with a blank between the texts of its children.
func spaced(e *element) string {
	if len(e.kids) == 0 {
		return e.text
	}
	own := e.text
	var parts []string
	for _, k := range e.kids {
		own = strings.Replace(own, k.text, " ", 1)
		parts = append(parts, spaced(k))
	}
	return own + " " + strings.Join(parts, " ")
}

// With one key changed, that key is named with every figure that it moves, and figures
// that stay are not told of.
func TestReportSinceExplains(t *testing.T) {
	name := file(t, smallDesign)
	page, _ := reported(t, name, "--since", name, "--set", "horn.mouth_width=300mm")
	root := parsePage(t, page)
	text := ""
	for _, s := range root.all("section") {
		if s.attr["aria-labelledby"] == "changes" {
			text = s.text
		}
	}
	// 25 400 · 1 m·Hz·deg over width and coverage (Keele): 906 Hz at 330 mm, 996 Hz at 300 mm.
	for _, want := range []string{"Lower end of the horn, by rule 996 Hz, was 906 Hz: horn.mouth_width, 300 mm, was 330 mm.", "oct open: horn.mouth_width, 300 mm, was 330 mm."} {
		if !strings.Contains(text, want) {
			t.Errorf("changes are\n%s\nwant %q", text, want)
		}
	}
	if strings.Contains(text, "Upper end") {
		t.Errorf("the woofers' end is told of, which no key moves:\n%s", text)
	}
}

// The links are those of the earlier file: those of the later one would take its horn along
// with a wider gap, and name the gap for what the horn has done.
func TestReportSinceKeepsTheEarlierLinks(t *testing.T) {
	old := starterFile(t, "hatch")
	html, _ := reported(t, starterFile(t, "hatch-insert"), "--since", old, "--set", "cabinet.gap=5mm")
	page := string(html)
	if strings.Contains(page, "was 906 Hz: cabinet.gap") {
		t.Error("1 mm between the boxes is said to have moved the horn's end from 906 Hz")
	}
	if !strings.Contains(page, "was 906 Hz") {
		t.Error("the horn's end of the earlier revision, 906 Hz, is not told")
	}
}

// A design that only differs in its words changes in no figure.
func TestReportSinceItself(t *testing.T) {
	name := file(t, smallDesign)
	o := object(t, "report", name, "--since", name, "--set", "review.revision=B")
	if v, _ := at(o, "changes.figures"); len(v.(map[string]any)) != 0 {
		t.Errorf("figures changed: %v", v)
	}
	keys, _ := at(o, "changes.keys")
	if m := keys.(map[string]any); len(m) != 1 || m["review.revision"] == nil {
		t.Errorf("keys changed: %v, want review.revision", m)
	}
}

func TestReportStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errOut bytes.Buffer
	dir := filepath.Join(t.TempDir(), "review")
	code := run(ctx, []string{"report", starterFile(t, "hatch"), "-o", dir}, &out, &errOut)
	if code != exitFailed || errOut.String() != "gapline: stopped\n" {
		t.Errorf("exit %d, %q; want 1, stopped", code, errOut.String())
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a stopped report left a folder")
	}
}

// What traces say of the gap is told where the case is made, and the verdict says that none
// is kept. The synthetic stacks part at 235 Hz by what gapline trace prints of them.
func TestReportTellsOfTracesGiven(t *testing.T) {
	o := object(t, "report", starterFile(t, "hatch-insert"), "--stacks", "../../testdata/measured/line-spaced.txt,../../testdata/measured/line-packed.txt")
	for _, x := range list(t, o, "sections") {
		var b strings.Builder
		s := x.(map[string]any)
		gather(s, &b)
		for id, want := range map[string]string{"verdict": "none kept of the traces given", "why-not": "line-spaced and line-packed part at 235 Hz, where the one spaced wider ceases to couple", "next": "The folded path's wall within "} {
			if s["id"] == id && !strings.Contains(b.String(), want) {
				t.Errorf("%s says\n%s\nwant %q", id, b.String(), want)
			}
		}
		if said := s["measured"].(bool); said != (s["id"] == "why-not" || s["id"] == "measured" || s["id"] == "more-measured") {
			t.Errorf("%s holds measurements: %v", s["id"], said)
		}
	}
}
