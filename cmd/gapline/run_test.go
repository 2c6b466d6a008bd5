package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// gapline runs one command line in this process.
func gapline(args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, &o, &e)
	return code, o.String(), e.String()
}

// object runs a command line with --json and returns its one JSON object.
func object(t *testing.T, args ...string) map[string]any {
	t.Helper()
	code, out, errOut := gapline(append(args, "--json")...)
	if code != exitDone {
		t.Fatalf("gapline %s: exit %d, %s", strings.Join(args, " "), code, errOut)
	}
	d := json.NewDecoder(strings.NewReader(out))
	var got map[string]any
	if err := d.Decode(&got); err != nil {
		t.Fatalf("gapline %s: %v in\n%s", strings.Join(args, " "), err, out)
	}
	if d.More() {
		t.Errorf("gapline %s: more than one JSON object", strings.Join(args, " "))
	}
	return got
}

// at returns the value under a dotted key, and whether the key is there.
func at(o map[string]any, key string) (any, bool) {
	head, rest, nested := strings.Cut(key, ".")
	v, ok := o[head]
	if !nested || !ok {
		return v, ok
	}
	sub, isObject := v.(map[string]any)
	if !isObject {
		return nil, false
	}
	return at(sub, rest)
}

func file(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "design.toml")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// A cancelled context, as after Ctrl-C, ends a long sweep with one line and
// exit code 1.
func TestCancelledSweep(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	w := &cancelAfter{n: 1 << 16, cancel: cancel}
	var errOut bytes.Buffer
	name := file(t, "[cabinet]\nheight = \"250 mm\"\n[line]\nboxes = 4\n[horn]\ncoverage = \"90 deg\"\nmouth_width = \"300 mm\"\n")
	code := run(ctx, []string{"sweep", name, "--csv", "--vary", "cabinet.pitch=200:400:0.1mm", "--vary", "horn.coverage=60:110:0.02deg"}, w, &errOut)
	if code != exitFailed || errOut.String() != "gapline: stopped\n" {
		t.Errorf("exit %d, %q; want 1, stopped", code, errOut.String())
	}
	// All five million rows would be gigabytes.
	if w.written > 1<<24 {
		t.Errorf("%d bytes were written", w.written)
	}
}

// cancelAfter takes bytes and cancels once it has n.
type cancelAfter struct {
	n, written int
	cancel     func()
}

func (w *cancelAfter) Write(p []byte) (int, error) {
	if w.written += len(p); w.written > w.n {
		w.cancel()
	}
	return len(p), nil
}

// broken is an output that fails, such as a full disk.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

// Every command that prints a result fails when the result cannot be printed.
func TestFullDisk(t *testing.T) {
	name := file(t, "[cabinet]\nheight = \"250 mm\"\n")
	sweep := []string{"sweep", name, "--vary", "cabinet.pitch=200,250mm"}
	for _, args := range [][]string{
		{"size"}, {"size", "--json"}, {"size", "--csv"}, {"explain"}, {"explain", "--json"}, {"explain", "gap.open_oct"},
		{"explain", "cabinet.pitch"}, {"explain", "cabinet.pitch", "--json"}, {"explain", "horn"}, {"new", "--list"},
		{"new", "--list", "--json"}, {"compare", name, name}, {"compare", name, name, "--json"}, {"compare", name, name, "--csv"},
		sweep, append(sweep, "--json"), append(sweep, "--csv"),
	} {
		var errOut bytes.Buffer
		code := run(context.Background(), args, broken{}, &errOut)
		if code != exitFailed || errOut.String() != "gapline: standard output: disk full\n" {
			t.Errorf("gapline %s: exit %d, %q; want 1 and one line", strings.Join(args, " "), code, errOut.String())
		}
	}
}
