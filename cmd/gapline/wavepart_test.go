package main

import (
	"bytes"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"gapline/internal/part"
	study "gapline/internal/study/wave"
)

// readPart returns head and lines of a part file, each line with its letter.
func readPart(t *testing.T, name string) (part.Head, []string) {
	t.Helper()
	f, err := part.Open(t.Context(), name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []string
	err = f.Each(func(letter byte, text io.Reader) error {
		all, err := io.ReadAll(text)
		lines = append(lines, string(letter)+string(all))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return f.Head, lines
}

// forgePart writes a part file whose digests are right.
func forgePart(t *testing.T, name string, h part.Head, lines []string) {
	t.Helper()
	var b bytes.Buffer
	w, err := part.NewWriter(&b, h)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if err := w.Line(l[0], []byte(l[1:])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.End(part.Foot{}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

// Parts with right digests whose contents do not belong to their run are refused as bad
// usage, with nothing printed or stored.
func TestForgedFrontParts(t *testing.T) {
	t.Chdir(t.TempDir())
	command := func(args ...string) (code int, out, errOut string) {
		var o, e bytes.Buffer
		code = run(t.Context(), args, &o, &e)
		return code, o.String(), e.String()
	}
	if code, _, why := command("new", "box.toml", "--starter", "hatch-insert"); code != exitDone {
		t.Fatal(why)
	}
	names := []string{"p1", "p2"}
	for i, name := range names {
		code, out, why := command("wave", "box.toml", "--of", "front", "--from", "200Hz", "--to", "300Hz", "--count", "3", "--part", []string{"1/2", "2/2"}[i])
		if code != exitDone {
			t.Fatal(why)
		}
		if err := os.WriteFile(name, []byte(out), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	first, one := readPart(t, "p1")
	second, two := readPart(t, "p2")
	replaced := func(i int, old, new string) func(l []string) []string {
		return func(l []string) []string {
			if !strings.Contains(l[i], old) {
				t.Fatalf("%.200s does not hold %s", l[i], old)
			}
			l[i] = strings.Replace(l[i], old, new, 1)
			return l
		}
	}
	// The first part holds the task, two solutions with insert and two without; the second one
	// of each.
	if len(one) != 3+2 && len(one) != 1+2 || len(one)+len(two) != 2+2*3 {
		t.Fatalf("%d and %d lines", len(one), len(two))
	}
	for name, c := range map[string]struct {
		change func(l []string) []string
		both   bool // in both files
		want   string
	}{
		"unchanged":   {func(l []string) []string { return l }, false, ""},
		"a frequency": {replaced(1, `"hz":`, `"hz":1`), false, "does not hold the frequencies of part 1/2"},
		"one too few": {func(l []string) []string { return slices.Delete(l, 1, 2) }, false, "does not hold the frequencies of part 1/2"},
		"one twice":   {func(l []string) []string { return slices.Insert(l, 1, l[1]) }, false, "does not hold the frequencies of part 1/2"},
		"none without insert": {func(l []string) []string {
			return slices.DeleteFunc(l, func(s string) bool { return s[0] == pointLines[study.WithoutInsert] })
		}, false, "does not hold the frequencies"},
		"nowhere either": {func(l []string) []string {
			return slices.DeleteFunc(l, func(s string) bool { return s[0] == pointLines[study.WithoutInsert] })
		}, true, "does not belong to this design"},
		"no angle":          {replaced(1, `"vertical":[[`, `"vertical":[],"x":[[`), false, "does not belong to this design: at"},
		"no mouths":         {replaced(1, `"mouths":`, `"x":`), false, "does not belong to this design: at"},
		"broken":            {replaced(1, `{`, `[`), false, "p1: a line cannot be read"},
		"no task":           {func(l []string) []string { return l[1:] }, false, "p1: says 0 times what was to be solved"},
		"two tasks":         {func(l []string) []string { return slices.Insert(l, 1, l[0]) }, false, "p1: says 2 times what was to be solved"},
		"another task":      {replaced(0, `"boxes":1`, `"boxes":2`), false, "p2: is a part of a different run"},
		"another run":       {replaced(0, `"boxes":1`, `"boxes":2`), true, "the design reads otherwise here"},
		"another drive":     {replaced(0, `"drive":""`, `"drive":"rear"`), true, `--drive is "rear"`},
		"no boxes":          {replaced(0, `"boxes":1`, `"boxes":0`), true, "--boxes is 0"},
		"other frequencies": {replaced(0, `"frequencies_hz":[200,`, `"frequencies_hz":[210,`), true, "the frequencies are not those of this run"},
		"another range":     {replaced(0, `"to":"300Hz"`, `"to":"310Hz"`), true, "the frequencies are not those of this run"},
		"a file to read":    {replaced(0, `"name":"box.toml"`, `"name":"other.toml"`), true, "the design reads otherwise here"},
	} {
		a, b := c.change(slices.Clone(one)), slices.Clone(two)
		if c.both {
			b = c.change(b)
		}
		forgePart(t, "p1", first, a)
		forgePart(t, "p2", second, b)
		code, out, why := command("merge", "p1", "p2", "--quiet")
		if c.want == "" {
			if code != exitDone {
				t.Errorf("%s: %s", name, why)
			}
			if err := os.RemoveAll(".gapline-cache"); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if code != exitUsage || out != "" || !strings.Contains(why, c.want) {
			t.Errorf("%s: exit %d, %d bytes out, says %q, want %q", name, code, len(out), why, c.want)
		}
		if _, err := os.Stat(".gapline-cache"); err == nil {
			t.Fatalf("%s: the run was stored", name)
		}
	}
}
