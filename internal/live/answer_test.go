package live

import (
	"bufio"
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/schema"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
	"gapline/internal/wav"
)

// Whatever the sliders say, the page's gap is the figure of the sizing of the same settings.
func TestGapIsThatOfTheSizing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, starter := range designfile.Starters {
		s := serve(t, starter.Name)
		id := textID(t, s)
		var first answer
		answerTo(t, s, "state", request{Text: id}, &first)
		for range 8 {
			var set []string
			for _, x := range first.Sliders {
				if x.Linked || x.Value == nil || rng.IntN(2) == 0 {
					continue
				}
				v := x.Min + x.Step*math.Floor(rng.Float64()*(x.Max-x.Min)/x.Step)
				set = append(set, x.Key+"="+strconv.FormatFloat(v, 'g', 9, 64)+" "+x.Unit)
			}
			var a answer
			answerTo(t, s, "state", request{Text: id, Set: set, InHand: "cabinet.pitch"}, &a)
			f, err := designfile.LoadStarter(starter.Name, set)
			if err != nil {
				if len(a.Faults) == 0 {
					t.Errorf("%s %v: no fault, want %v", starter.Name, set, err)
				}
				continue
			}
			sized := sizing.Size(&f.Design)
			def := space.GapFigure(&f.Design)
			if want := def.Machine(size.Of(&sized, def)); len(a.Faults) > 0 || a.GapKey != def.Key || a.GapValue != jsonNumber(want) {
				t.Errorf("%s %v: %s = %s, %v; want %s = %v", starter.Name, set, a.GapKey, a.GapValue, a.Faults, def.Key, want)
			}
		}
	}
}

func jsonNumber(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "null"
	}
	b, _ := json.Marshal(x)
	return string(b)
}

// Every picture is well-formed, without scripts, links or handlers.
func TestPicturesAreSafe(t *testing.T) {
	s := serve(t, "hatch-insert")
	id := textID(t, s)
	var a answer
	answerTo(t, s, "state", request{Text: id, Set: []string{`title=<script>alert(1)</script>" onload="x`, "cabinet.pitch=260mm"}, InHand: "cabinet.pitch", Stack: true, Narrow: true}, &a)
	if len(a.Pictures) != 6 || len(a.Lacks) != 0 {
		t.Errorf("%d pictures, lacking %v", len(a.Pictures), a.Lacks)
	}
	for name, svg := range a.Pictures {
		d := xml.NewDecoder(strings.NewReader(svg))
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			if n := e.Name.Local; n == "script" || n == "a" || n == "foreignObject" || n == "style" {
				t.Errorf("%s has <%s>", name, n)
			}
			for _, x := range e.Attr {
				if strings.HasPrefix(x.Name.Local, "on") || x.Name.Local == "href" && !strings.HasPrefix(x.Value, "data:image/png") {
					t.Errorf("%s has %s=%q", name, x.Name.Local, x.Value)
				}
			}
		}
	}
}

// A link acts until its key is set, and acts again when the setting goes.
func TestLocks(t *testing.T) {
	s := serve(t, "hatch")
	id := textID(t, s)
	width := func(set ...string) slider {
		var a answer
		answerTo(t, s, "state", request{Text: id, Set: set}, &a)
		for _, x := range a.Sliders {
			if x.Key == "horn.mouth_width" {
				return x
			}
		}
		t.Fatal("no slider of horn.mouth_width")
		return slider{}
	}
	free, wider := width(), width("cabinet.pitch=282mm")
	// testdata of the starter: mouth width follows the pitch by a factor of 0.7.
	if !free.Linked || math.Abs(*wider.Value-*free.Value-0.7*10) > 1e-9 {
		t.Errorf("from %v to %v", *free.Value, *wider.Value)
	}
	held := width("cabinet.pitch=282mm", "horn.mouth_width="+free.Exact)
	if held.Linked || !held.Set || *held.Value != *free.Value {
		t.Errorf("held: %+v", held)
	}
}

// The state before shows beside the present one, in gap, figures and formula, and as an
// outline on the strip.
func TestBefore(t *testing.T) {
	s := serve(t, "hatch")
	id := textID(t, s)
	var old, a answer
	answerTo(t, s, "state", request{Text: id}, &old)
	answerTo(t, s, "state", request{Text: id, Set: []string{"cabinet.pitch=260mm"}, Focus: "coupling.open.half_wave_hz"}, &a)
	if a.GapWas != old.Gap || a.Gap == old.Gap {
		t.Errorf("was %q, want %q; now %q", a.GapWas, old.Gap, a.Gap)
	}
	if !strings.Contains(a.Pictures["strip"], "(before:") || strings.Contains(old.Pictures["strip"], "(before:") {
		t.Error("the strip does not show the state before, or always does")
	}
	// c/2s of the two spacings, from the numbers that the formula prints.
	rows := a.Formula.Tables[0].Rows
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(strings.Fields(text)[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	byName := map[string][]string{}
	for _, r := range rows {
		byName[r[0]] = r
	}
	for i := 1; i <= 2; i++ {
		c, spacing := number(byName["c = air.sound_speed_m_s"][i]), number(byName["s = coupling.open.spacing_m"][i])/1e3
		if got := number(byName["result"][i]); math.Abs(got-c/2/spacing) > 0.51 {
			t.Errorf("column %d: %v Hz, want %v", i, got, c/2/spacing)
		}
	}
}

// A state that cannot be computed says why, with the words of the command line.
func TestFaults(t *testing.T) {
	s := serve(t, "hatch")
	id := textID(t, s)
	for set, want := range map[string]string{
		"cabinet.pitch=-3 mm": "cabinet.pitch", "cabinet.pich=3 mm": "did you mean cabinet.pitch", "cabinet.pitch": "KEY=VALUE", "horn.coverage=3 kg": "deg",
		"line.boxes=7\x1b[31m": "line.boxes",
	} {
		var a answer
		answerTo(t, s, "state", request{Text: id, Set: []string{set}}, &a)
		if len(a.Faults) == 0 || !strings.Contains(a.Faults[0], want) || strings.Contains(a.Faults[0], "\x1b") || len(a.Sliders) == 0 {
			t.Errorf("%q: %q, %d sliders", set, a.Faults, len(a.Sliders))
		}
	}
}

// What the page hands out as a file is the design of its settings.
func TestFile(t *testing.T) {
	s := serve(t, "hatch")
	set := []string{"cabinet.pitch=260 mm", "horn.coverage=70 °"}
	var a struct{ Name, Text string }
	answerTo(t, s, "file", request{Text: textID(t, s), Set: set}, &a)
	got, err := designfile.Parse("x", []byte(a.Text), nil)
	if err != nil {
		t.Fatal(err)
	}
	if p, c := schema.FindKey("cabinet.pitch").Number(&got.Design), schema.FindKey("horn.coverage").Number(&got.Design); math.Abs(p-0.260) > 1e-12 || math.Abs(c-70*math.Pi/180) > 1e-12 || !strings.Contains(a.Text, "# ") {
		t.Errorf("pitch %v, coverage %v\n%s", p, c, a.Text)
	}
}

// A changed file is seen by a page that is opened anew; a page that is open stays with its text.
func TestReload(t *testing.T) {
	text, err := designfile.StarterText("hatch")
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "box.toml")
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	s, err := New(ctx, Options{File: name})
	if err != nil {
		t.Fatal(err)
	}
	go s.Serve()
	old := textID(t, s)
	if err := os.WriteFile(name, bytes.Replace(text, []byte("draft 1"), []byte("draft 9"), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	var before, after answer
	answerTo(t, s, "state", request{Text: old}, &before)
	answerTo(t, s, "state", request{Text: textID(t, s)}, &after)
	if !strings.Contains(before.Title, "draft 1") || !strings.Contains(after.Title, "draft 9") {
		t.Errorf("%q, %q", before.Title, after.Title)
	}
}

// A study tells how far it has come, ends with what it found, and stops when it is given up.
func TestStudies(t *testing.T) {
	s := serve(t, "hatch")
	id := textID(t, s)
	ask := func(ctx context.Context, study string) *http.Response {
		body, _ := json.Marshal(request{Text: id, Study: study})
		r, err := http.NewRequestWithContext(ctx, "POST", s.Address()+"study", bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	r := ask(context.Background(), "seats")
	defer r.Body.Close()
	var last message
	lines := bufio.NewScanner(r.Body)
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		last = message{}
		if err := json.Unmarshal(lines.Bytes(), &last); err != nil {
			t.Fatal(err)
		}
	}
	if last.Found == nil || len(last.Found.Pictures) != 2 || len(last.Found.Tables) == 0 || len(last.Found.Cautions) == 0 {
		t.Errorf("seats: %+v", last)
	}
	for range mostStudies + 1 { // given up, they leave their room to the next
		ctx, stop := context.WithCancel(context.Background())
		r := ask(ctx, "wave")
		bufio.NewReader(r.Body).ReadString('\n')
		stop()
		r.Body.Close()
	}
	deadline := time.Now().Add(5 * time.Second)
	for len(s.studies) > 0 && time.Now().Before(deadline) {
		time.Sleep(10 * time.Millisecond)
	}
	if n := len(s.studies); n > 0 {
		t.Errorf("%d studies still run", n)
	}
}

// The sounds are the signal and two impulse responses at the page's rate; with nothing changed
// both responses are the same.
func TestSounds(t *testing.T) {
	s := serve(t, "hatch-insert")
	id := textID(t, s)
	read := func(text string) wav.Sound {
		data, err := base64.StdEncoding.DecodeString(text)
		if err != nil {
			t.Fatal(err)
		}
		x, err := wav.Read(bytes.NewReader(data), 0)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for _, c := range []struct {
		bare, same bool
	}{{false, true}, {true, false}} {
		var a sounds
		answerTo(t, s, "sound", request{Text: id, Seat: "front", Signal: "pink", Bare: c.bare}, &a)
		if len(a.Faults) > 0 || len(a.Cautions) == 0 {
			t.Fatalf("%v, cautions %v", a.Faults, a.Cautions)
		}
		if x := read(a.Signal); x.Rate != pageRate || len(x.Samples) != pageSeconds*pageRate {
			t.Errorf("signal of %d samples at %v Hz", len(x.Samples), x.Rate)
		}
		if read(a.A).Rate != pageRate || (a.A == a.B) != c.same {
			t.Errorf("bare %v: the responses are the same: %v", c.bare, a.A == a.B)
		}
	}
	var a sounds
	answerTo(t, s, "sound", request{Text: id, Seat: "roof", Signal: "pink"}, &a)
	if len(a.Faults) == 0 {
		t.Error("there is a seat called roof")
	}
}

// Any key can be added, and every figure can be in focus.
func TestEveryKeyAndFigure(t *testing.T) {
	text, err := designfile.StarterText("hatch-insert")
	if err != nil {
		t.Fatal(err)
	}
	s := serve(t, "hatch-insert")
	x, err := s.read(context.Background(), text, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range schema.Keys {
		k := &schema.Keys[i]
		list := s.sliders(x, x, &request{Keys: []string{k.Path}})
		found := false
		for _, l := range list {
			if l.Key != k.Path {
				continue
			}
			found = true
			if k.Numeric() && l.Value != nil && !(l.Min <= *l.Value && *l.Value <= l.Max && l.Step > 0) {
				t.Errorf("%s: %v within %v to %v by %v", k.Path, *l.Value, l.Min, l.Max, l.Step)
			}
		}
		if found != (k.Numeric() || k.Type == schema.Choice) {
			t.Errorf("%s has a slider: %v", k.Path, found)
		}
	}
	for _, f := range figure.Sized() {
		if s.formula(f.Key, x, x) == nil {
			t.Errorf("%s has no formula", f.Key)
		}
	}
}

// FuzzState: whatever a page sends, the server answers with JSON and no panic.
func FuzzState(f *testing.F) {
	text, err := designfile.StarterText("hatch")
	if err != nil {
		f.Fatal(err)
	}
	s, err := New(context.Background(), Options{Text: text})
	if err != nil {
		f.Fatal(err)
	}
	defer s.listener.Close()
	t, err := s.reread(context.Background())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(`{"set":["cabinet.pitch=260mm"],"inHand":"cabinet.pitch","focus":"gap.open_oct"}`)
	f.Add(`{"set":["horn.coverage=none"],"before":["line.boxes=1"],"keys":["line.tilt"],"inHand":"line.tilt","keep":[{"name":"A","set":["insert.mouths=2"]}]}`)
	f.Add(`{"set":["cabinet.pitch=1e308 m","air.temperature=-300 degC"],"narrow":true,"slim":true}`)
	f.Fuzz(func(tt *testing.T, body string) {
		var q map[string]any
		if json.Unmarshal([]byte(body), &q) == nil && q != nil {
			q["text"] = t.id
			if b, err := json.Marshal(q); err == nil {
				body = string(b)
			}
		}
		r, err := http.NewRequest("POST", "http://127.0.0.1:"+s.port+"/"+s.token+"/state", strings.NewReader(body))
		if err != nil {
			tt.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		w := recorder{header: http.Header{}}
		s.guard(s.routes()).ServeHTTP(&w, r)
		if !json.Valid(w.body.Bytes()) {
			tt.Fatalf("%d: %.200s", w.status, w.body.Bytes())
		}
	})
}

// recorder keeps an answer.
type recorder struct {
	header http.Header
	status int
	body   bytes.Buffer
}

func (r *recorder) Header() http.Header         { return r.header }
func (r *recorder) WriteHeader(status int)      { r.status = status }
func (r *recorder) Write(p []byte) (int, error) { return r.body.Write(p) }
