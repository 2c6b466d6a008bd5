package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// listed are n texts joined by commas.
func listed(n int, each func(i int) string) string {
	var out []string
	for i := range n {
		out = append(out, each(i))
	}
	return strings.Join(out, ",")
}

// repeated is a word n times.
func repeated(n int, words ...string) []string { return slices.Repeat(words, n) }

// Every bound that help states is refused just beyond, with the number that help states,
// and taken at it where that takes no more than a second. The numbers stand here in full,
// so that one that is moved is moved knowingly.
func TestBounds(t *testing.T) {
	dir := t.TempDir()
	design := filepath.Join(dir, "box.toml")
	if code, _, errOut := gapline("new", design); code != exitDone {
		t.Fatal(errOut)
	}
	text, err := os.ReadFile(design)
	if err != nil {
		t.Fatal(err)
	}
	sized := func(name string, start []byte, n int) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, append(slices.Clone(start), make([]byte, n-len(start))...), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	padded := func(name string, n int) string { // with a comment
		return sized(name, append(append([]byte(nil), text...), "\n#"+strings.Repeat("x", n-len(text)-2)...), n)
	}
	frequency := func(i int) string { return fmt.Sprintf("%d.5Hz", 100+i) }
	table := func(name string) string { // a text table one line beyond 64 MB
		path := filepath.Join(dir, name)
		var rows strings.Builder
		for i := 0; rows.Len() <= 64<<20; i++ {
			fmt.Fprintf(&rows, "%.3f 8.000%s\n", 20+float64(i)*0.001, strings.Repeat(" ", 1000))
		}
		if err := os.WriteFile(path, []byte(rows.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	measured := func(n int) []string { // files of other names
		var out []string
		for i := range n {
			path := filepath.Join(dir, fmt.Sprintf("m%d.txt", i))
			if err := os.WriteFile(path, []byte("100 80\n200 81\n400 82\n800 82\n"), 0o666); err != nil {
				t.Fatal(err)
			}
			out = append(out, path)
		}
		return out
	}
	for _, c := range []struct {
		command, number string
		at, beyond      []string // without the command
	}{
		{"size", "1 MB", []string{padded("largest.toml", 1<<20)}, []string{padded("larger.toml", 1<<20+1)}},
		{"size", "99", nil, []string{design, "--set", "line.splay_steps=[" + listed(100, func(i int) string { return fmt.Sprintf("\"%g deg\"", float64(i)/10) }) + "]"}},
		{"box", "20000", []string{design, "--from", "10Hz", "--to", "20Hz", "--per-octave", "19999", "--quiet"}, []string{design, "--from", "10Hz", "--to", "20Hz", "--per-octave", "20001"}},
		{"box", "64", nil, []string{design, "--boxes", "1,65"}},
		{"box", "at most 8", nil, []string{design, "--boxes", "1,2,3,4,5,6,7,8,9"}},
		{"box", "64 MB", nil, []string{"--fit", table("sweep.txt")}},
		{"fold", "100000", []string{design, "--rays", "100000"}, []string{design, "--rays", "100001"}},
		{"line", "2000", nil, []string{design, "--frequencies", listed(2001, frequency)}},
		{"line", "1000", nil, append([]string{design}, repeated(1001, "--point", "1m,0m,1m")...)},
		{"line", "0.1", nil, []string{design, "--tables", filepath.Join(dir, "t"), "--step", "0.09deg"}},
		{"crossover", "2000", nil, []string{design, "--frequencies", listed(2001, frequency)}},
		{"listen", "192000", nil, []string{design, "--rate", "192001", "-o", filepath.Join(dir, "a.wav"), "--seat", "front", "--other-seat", "back"}},
		{"listen", "8000", nil, []string{design, "--rate", "7999", "-o", filepath.Join(dir, "a.wav"), "--other-seat", "back"}},
		{"listen", "87.3", nil, []string{design, "--duration", "87.4s", "-o", filepath.Join(dir, "a.wav"), "--other-seat", "back"}},
		{"listen", "256 MB", nil, []string{design, "--wav", sized("large.wav", []byte("RIFF"), 256<<20+1), "--other-seat", "back", "-o", filepath.Join(dir, "a.wav")}},
		{"sweep", "10000000", nil, []string{design, "--vary", "cabinet.pitch=200mm:300mm:0.00001mm"}},
		{"sweep", "10000000", nil, []string{design, "--vary", "cabinet.pitch=200mm:300mm:0.01mm", "--vary", "horn.coverage=60:120:0.059deg"}},
		{"sweep", "1000000", nil, []string{design, "--vary", "cabinet.pitch=200mm:300mm:1mm", "--part", "1/1000001"}},
		{"compare", "100", repeated(100, design), repeated(101, design)},
		{"tolerance", "200000", nil, []string{design, "--samples", "200001"}},
		{"tolerance", "20", []string{design, "--samples", "20"}, []string{design, "--samples", "19"}},
		{"tolerance", "2000", nil, []string{design, "--vary", "cabinet.pitch=1000:3000:1mm"}},
		{"search", "100000000", nil, []string{design, "--designs", "100000001"}},
		{"search", "100", []string{design, "--designs", "100"}, []string{design, "--designs", "99"}},
		{"wave", "2000", nil, []string{design, "--count", "2001"}},
		{"wave", "2.15 GB", nil, []string{design, "--from", "300kHz", "--to", "300kHz", "--count", "1"}},
		{"wave", "4.29 GB", nil, []string{design, "--of", "front", "--from", "5kHz", "--to", "5kHz", "--count", "1", "--boxes", "7"}},
		{"trace", "100", append([]string{design, "--against", "none"}, measured(100)...), append([]string{design}, measured(101)...)},
		{"trace", "64 MB", nil, []string{design, table("long.txt")}},
		{"report", "25", nil, append([]string{"--json"}, repeated(26, design)...)},
		{"report", "100", nil, append([]string{design, "--json"}, strings.Split("--trace="+strings.Join(measured(101), " --trace="), " ")...)},
	} {
		name := c.command + " " + c.number
		if stated := helpBounds(t, c.command); !strings.Contains(stated, c.number) && c.number != "87.3" {
			t.Errorf("%s: help states %s", name, stated)
		}
		code, out, errOut := gapline(append([]string{c.command}, c.beyond...)...)
		if code != exitUsage || out != "" || strings.Count(errOut, "\n") != 1 {
			t.Errorf("%s: beyond it exit code %d, printed %.100q, said %.300q", name, code, out, errOut)
		}
		if !strings.Contains(errOut, c.number) {
			t.Errorf("%s: beyond it said %.300q", name, errOut)
		}
		if c.at != nil {
			if code, _, errOut := gapline(append([]string{c.command}, c.at...)...); code != exitDone {
				t.Errorf("%s: at it exit code %d, said %.300q", name, code, errOut)
			}
		}
	}
}

// helpBounds is what the help of a command states of its bounds.
func helpBounds(t *testing.T, command string) string {
	t.Helper()
	code, out, _ := gapline("help", command)
	_, stated, found := strings.Cut(out, "Bounds")
	stated, _, _ = strings.Cut(stated, "Usage:")
	if code != exitDone || !found {
		t.Errorf("help %s: exit code %d, states no bounds", command, code)
	}
	return stated
}

// The bounds of [search] are those of its lists, which only a file can give.
func TestBoundsOfSearch(t *testing.T) {
	dir := t.TempDir()
	for table, c := range map[string]struct {
		most  int
		entry string
	}{
		"limits": {50, `"gap.open_oct <= 1"`},
		"goals":  {3, `"least gap.open_oct"`},
	} {
		path := filepath.Join(dir, table+".toml")
		text := fmt.Sprintf("[cabinet]\npitch = \"250 mm\"\n[search]\n%s = [%s]\n", table, listed(c.most+1, func(int) string { return c.entry }))
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		number := "at most " + strconv.Itoa(c.most)
		code, _, errOut := gapline("search", path)
		if code != exitUsage || !strings.Contains(errOut, number) || !strings.Contains(helpBounds(t, "search"), number) {
			t.Errorf("%s: exit code %d, said %.300q", table, code, errOut)
		}
	}
}

// No command is without bounds, and none is listed that does not exist.
func TestEveryCommandStatesItsBounds(t *testing.T) {
	root := newRoot(&app{})
	var names []string
	for _, c := range root.Commands() {
		if c.Name() != "help" && c.Name() != "completion" {
			names = append(names, c.Name())
			helpBounds(t, c.Name())
		}
	}
	for name := range bounds {
		if !slices.Contains(names, name) {
			t.Errorf("bounds of %s, which is no command", name)
		}
	}
}
