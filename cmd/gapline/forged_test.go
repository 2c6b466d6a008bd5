package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"gapline/internal/designfile"
)

// forged is a text that would print a verdict of its own, clear the screen, colour
// what follows and turn its direction.
const forged = "=Box\nMET     forged\rMET     forged\u2028MET     forged\x1b[2J\x1b[31m\u009b31m\u0085\b\u202eback\u2066"

// foul returns what in an output a foreign text must not bring there; "" when there
// is nothing.
func foul(text string) string {
	if !utf8.ValidString(text) {
		return "broken UTF-8"
	}
	for _, r := range text {
		if r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control)) {
			return fmt.Sprintf("the character %U", r)
		}
	}
	for line := range strings.Lines(text) {
		if strings.HasPrefix(strings.TrimLeft(line, " "), "MET     forged") {
			return "a forged line"
		}
	}
	return ""
}

// quoted writes a text as TOML.
func quoted(s string) string {
	var b strings.Builder
	for _, r := range s {
		fmt.Fprintf(&b, "\\u%04x", r)
	}
	return `"` + b.String() + `"`
}

// Names of files that a system may well have.
const (
	forgedDesign = "b\nMET     forged\x1b[31m.toml"
	forgedTrace  = "t\nMET     forged\x1b[31m\u202e.txt"
	forgedSweep  = "z\nMET     forged\x1b[31m\u009b.txt"
)

// forgedFolder makes a folder in which the texts of design and drivers and the names
// of files are forged, and goes there.
func forgedFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	starter, err := designfile.StarterText("hatch-insert")
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	design := regexp.MustCompile(`(?m)^(title|question|decision|author|revision)( *)=.*$`).ReplaceAllStringFunc(string(starter), func(line string) string {
		count++
		key, _, _ := strings.Cut(line, "=")
		return key + "= " + quoted(forged)
	})
	if count != 5 {
		t.Fatalf("%d texts forged, want 5", count)
	}
	var sweep, trace strings.Builder
	for f := 10.0; f < 2000; f *= 1.05 {
		fmt.Fprintf(&sweep, "%.3f %.4f\n", f, 6+30/(1+math.Pow((f-50)/8, 2))+0.002*f)
		fmt.Fprintf(&trace, "%.3f %.4f\n", f, 90.0)
	}
	for name, data := range map[string]string{
		"box.toml": design, forgedDesign: design, forgedTrace: trace.String(), forgedSweep: sweep.String(),
		"drivers/d\nMET     forged\x1b[31m.toml": "title = " + quoted(forged) + "\nfs = \"40 Hz\"\nqes = 0.4\nqms = 5\nvas = \"60 L\"\nre = \"5.5 ohm\"\nsd = \"330 cm2\"\nxmax = \"5 mm\"\n",
		"drivers/x\nMET     forged\x1b[31m.toml": "nonsense",
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(data), 0o666); err != nil {
			t.Skip("no such file names here: ", err)
		}
	}
}

// No text of a design, name of a file or word of the command line does more in any
// output than stand there.
func TestForgedTexts(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the program some hundred times")
	}
	forgedFolder(t)
	const b = forgedDesign
	for _, args := range [][]string{
		{"size", b}, {"size", b, "--all"}, {"size", b, "--json"}, {"size", b, "--csv"}, {"size", b, "-o", "size.svg"},
		{"box", b}, {"box", b, "--json"}, {"box", b, "--csv"}, {"box", b, "-o", "box.svg"},
		{"box", b, "--drivers", "drivers"}, {"box", b, "--drivers", "drivers", "--csv"}, {"box", b, "--drivers", "drivers", "--json"},
		{"box", "--fit", forgedSweep, "--write", "fitted.toml"}, {"box", "--fit", forgedSweep, "--csv"}, {"box", "--fit", forgedSweep, "--json"},
		{"box", "--fit", forgedSweep, "--write", "titled.toml", "--driver-title", forged},
		{"horn", b}, {"horn", b, "--json"}, {"horn", b, "-o", "horn.svg"},
		{"fold", b, "-o", "fold.dxf", "-o", "fold.svg", "-o", "fold.csv"}, {"fold", b, "--part", "insert", "-o", "plate.dxf"}, {"fold", b, "--json"},
		{"line", b, "-o", "line.svg"}, {"line", b, "--json"}, {"crossover", b, "--without-best", "-o", "crossover.svg"}, {"crossover", b, "--without-best", "--json"},
		{"listen", b, "--against", b, "--point", "5m,0m,1m", "--duration", "100ms", "--rate", "8000", "-o", "listen.svg", "-o", "listen.wav"}, {"listen", b, "--against", b, "--point", "5m,0m,1m", "--duration", "100ms", "--rate", "8000", "--json"},
		{"listen", "box.toml", "--wav", forged}, {"listen", "box.toml", "--other", forged}, {"listen", "box.toml", "--other", "title=" + forged, "--point", "5m,0m,1m", "--duration", "100ms", "--rate", "8000"},
		{"compare", b, "box.toml", "--all"}, {"compare", b, "box.toml", "--all", "--csv"}, {"compare", b, "box.toml", "--json"}, {"compare", b, "box.toml", "-o", "compare.svg"},
		{"trace", b, forgedTrace, "-o", "trace.svg"}, {"trace", b, forgedTrace, "--csv"}, {"trace", b, forgedTrace, "--curves", "--csv"}, {"trace", b, forgedTrace, "--json"},
		{"trace", b, "--pair", forgedTrace + ",box.toml"},
		{"tolerance", b, "--samples", "20"}, {"tolerance", b, "--samples", "20", "--json"}, {"tolerance", b, "--samples", "20", "--csv"},
		{"search", b, "--designs", "100", "--write", "found"}, {"search", b, "--designs", "100", "--json"}, {"search", b, "--designs", "100", "--csv"}, {"search", b, "--designs", "100", "--part", "1/2"},
		{"sweep", b, "--vary", "cabinet.pitch=230:300:10mm"}, {"sweep", b, "--vary", "cabinet.pitch=230:300:10mm", "--json"}, {"sweep", b, "--vary", "cabinet.pitch=230:300:10mm", "-o", "sweep.svg"},
		{"wave", b, "--from", "500Hz", "--to", "1kHz", "--count", "2", "-o", "wave.svg"}, {"wave", b, "--from", "500Hz", "--to", "1kHz", "--count", "2", "--json"},
		{"report", b, "box.toml", "--since", forgedDesign, "--trace", forgedTrace, "-o", "review"}, {"report", b, "--json"},
		{"report", b, "--set", "title=" + forged, "-o", "review-set"},
		{"new", "n\nMET     forged\x1b[31m.toml"}, {"new", "box.toml"}, {"new", "--starter", forged, "x.toml"},
		{"size", "none\nMET     forged\x1b.toml"}, {"size", "box.toml", "--set", forged}, {"size", "box.toml", "--set", forged + "=1"}, {"size", "box.toml", "--set", "cabinet.pitch=" + forged},
		{"size", "box.toml", "-o", forged}, {"size", "box.toml", "--units", forged}, {"size", "box.toml", "--" + forged}, {"size", "box.toml", "--jobs", forged}, {"size", "a", "b", forged},
		{"size", "box.toml", "-o", forged + "/none/a.svg"}, {"merge", forged}, {"merge", forgedDesign}, {"help", forged}, {forged}, {"explain", forged}, {"trace", "box.toml", forged},
		{"sweep", "box.toml", "--vary", forged}, {"sweep", "box.toml", "--vary", "cabinet.pitch=" + forged}, {"search", "box.toml", "--part", forged}, {"box", "box.toml", "--drivers", forged},
		{"wave", "box.toml", "--at", forged}, {"line", "box.toml", "--frequencies", forged}, {"compare", "box.toml", "box.toml", "--view", forged},
	} {
		var out, errOut bytes.Buffer
		run(t.Context(), args, &out, &errOut)
		if why := foul(out.String()); why != "" {
			t.Errorf("gapline %q prints %s:\n%.600q", args, why, out.String())
		}
		if why := foul(errOut.String()); why != "" {
			t.Errorf("gapline %q says %s:\n%q", args, why, errOut.String())
		}
		if out.Len()+errOut.Len() == 0 {
			t.Errorf("gapline %q says nothing", args)
		}
	}
	written := 0
	for _, pattern := range []string{"*.svg", "*.dxf", "*.csv", "review*/*.html", "found/*.toml", "fitted.toml", "titled.toml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: nothing was written", pattern)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			why := foul(string(data))
			if filepath.Ext(name) == ".html" && why == "a forged line" {
				why = "" // the words of a review keep their lines; the page's verdict is no line of text
			}
			if why != "" {
				t.Errorf("%s holds %s", name, why)
			}
			written++
		}
	}
	if written < 17 {
		t.Errorf("%d files were looked at", written)
	}
}

// A title that a spreadsheet would take for a formula is told to be text.
func TestForgedFormula(t *testing.T) {
	forgedFolder(t)
	var out, errOut bytes.Buffer
	if code := run(t.Context(), []string{"compare", forgedDesign, "box.toml", "--all", "--csv"}, &out, &errOut); code != exitDone {
		t.Fatal(errOut.String())
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := false
	for _, row := range rows {
		for _, cell := range row {
			if strings.HasPrefix(cell, "=") {
				t.Errorf("%s: %q", row[0], cell)
			}
			seen = seen || strings.HasPrefix(cell, "'=Box MET")
		}
	}
	if !seen {
		t.Errorf("no title in %q", rows)
	}
}
