//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// patience is how long a program may take that is not to hang: far longer than any
// of these commands takes, so that a busy machine fails no test.
const patience = 2 * time.Minute

// program runs a command line in a folder and returns what it printed and its exit
// code.
func program(t *testing.T, dir string, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, "gapline", args...)
	cmd.Dir = dir
	var out, errOut bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errOut
	err := cmd.Run()
	var exit *exec.ExitError
	switch {
	case ctx.Err() != nil:
		t.Fatalf("%v hangs", args)
	case err != nil && !errors.As(err, &exit):
		t.Fatalf("%v: %v", args, err)
	}
	return out.String(), errOut.String(), cmd.ProcessState.ExitCode()
}

// workshop makes a folder with a design, box.toml, and what the files say.
func workshop(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	if _, errOut, code := program(t, dir, "new", "box.toml"); code != 0 {
		t.Fatal(errOut)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func pipe(t *testing.T, path ...string) {
	t.Helper()
	if err := syscall.Mkfifo(filepath.Join(path...), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A pipe that nobody writes to is refused wherever a file is read; opening it would
// wait for ever.
func TestPipesAreRefused(t *testing.T) {
	dir := workshop(t, map[string]string{"driven.toml": "[cabinet]\nheight = \"268 mm\"\n[woofer]\nfile = \"pipe\"\n"})
	pipe(t, dir, "pipe")
	if err := os.Mkdir(filepath.Join(dir, "drivers"), 0o777); err != nil {
		t.Fatal(err)
	}
	pipe(t, dir, "drivers", "ten.toml")
	for line, want := range map[string]string{
		"size pipe":                                       "pipe: is a pipe: a design file is needed",
		"compare box.toml pipe":                           "pipe: is a pipe: a design file is needed",
		"wave pipe":                                       "pipe: is a pipe: a design file is needed",
		"size driven.toml":                                `driven.toml:4: woofer.file = "pipe" is a pipe: a driver file is needed`,
		"box box.toml --drivers drivers":                  "drivers/ten.toml: is a pipe: a driver file is needed",
		"box --fit pipe":                                  "pipe: is a pipe: an impedance sweep is needed",
		"trace box.toml pipe":                             "pipe: is a pipe: a measured response is needed",
		"trace box.toml --pair pipe,pipe":                 "pipe: is a pipe: a measured response is needed",
		"report box.toml --trace pipe -o review":          "pipe: is a pipe: a measured response is needed",
		"report box.toml --since pipe -o review":          "pipe: is a pipe: a design file is needed",
		"merge pipe":                                      "pipe: is a pipe: a part file is needed",
		"search pipe":                                     "pipe: is a pipe: a design file is needed",
		"sweep pipe --vary cabinet.pitch=200mm:300mm:5mm": "pipe: is a pipe: a design file is needed",
	} {
		out, errOut, code := program(t, dir, strings.Fields(line)...)
		if code == 0 || out != "" && !strings.Contains(line, "--drivers") || !strings.Contains(errOut, want) {
			t.Errorf("%s: exit code %d, printed %q, said %q, want %q", line, code, out, errOut, want)
		}
	}
}

// The same for a stored run, which other commands look up without being asked.
func TestPipeInTheCacheIsIgnored(t *testing.T) {
	dir := workshop(t, nil)
	if _, errOut, code := program(t, dir, "wave", "box.toml", "--from", "500Hz", "--to", "5000Hz", "--count", "12"); code != 0 {
		t.Fatal(errOut)
	}
	stored, err := filepath.Glob(filepath.Join(dir, ".gapline-cache", "*.json"))
	if err != nil || len(stored) != 1 {
		t.Fatalf("stored %v, %v", stored, err)
	}
	if err := os.Remove(stored[0]); err != nil {
		t.Fatal(err)
	}
	pipe(t, stored[0])
	out, errOut, code := program(t, dir, "size", "box.toml")
	if code != 0 || strings.Contains(out, "coverage from, wave") || !strings.Contains(errOut, "is a pipe: a stored run is needed") {
		t.Errorf("exit code %d, said %q, printed %s", code, errOut, out)
	}
}

// Output that cannot be written is a failure of every command, of help too.
func TestFullDiskEndsWithOne(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("needs /dev/full")
	}
	defer full.Close()
	failsToWrite(t, full, "no space left on device")
}

// So is a reader that has gone away.
func TestClosedPipeEndsWithOne(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	defer w.Close()
	failsToWrite(t, w, "broken pipe")
}

func failsToWrite(t *testing.T, out *os.File, why string) {
	t.Helper()
	dir := workshop(t, nil)
	for _, line := range []string{
		"", "--help", "--version", "help size", "size --help", "explain", "explain gap.open_oct", "explain --json", "completion bash", "completion zsh", "completion fish",
		"completion powershell", "new --list", "new --list --json", "__complete size --s",
		"size box.toml", "size box.toml --json", "size box.toml --csv", "size box.toml --strict", "box box.toml", "box box.toml --json", "box box.toml --csv",
		"horn box.toml", "horn box.toml --csv", "fold box.toml", "fold box.toml --csv", "line box.toml", "line box.toml --csv --view polar", "crossover box.toml --without-best",
		"listen box.toml --other-seat back --duration 100ms --rate 8000", "listen box.toml --other-seat back --duration 100ms --rate 8000 --csv",
		"compare box.toml box.toml --all", "compare box.toml box.toml --all --csv",
		"tolerance box.toml --samples 20", "tolerance box.toml --samples 20 --csv", "search box.toml --designs 100", "search box.toml --designs 100 --csv", "search box.toml --designs 100 --part 1/2",
		"sweep box.toml --vary cabinet.pitch=200:300:50mm", "sweep box.toml --vary cabinet.pitch=200:300:50mm --csv --part 1/2",
		"wave box.toml --from 500Hz --to 1000Hz --count 2", "wave box.toml --from 500Hz --to 1000Hz --count 2 --csv", "report box.toml --json",
	} {
		cmd := exec.Command("gapline", strings.Fields(line)...)
		var errOut bytes.Buffer
		cmd.Dir, cmd.Stdout, cmd.Stderr = dir, out, &errOut
		err := cmd.Run()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != exitFailed || !strings.Contains(errOut.String(), "gapline: standard output: "+why) {
			t.Errorf("gapline %s: %v, said %q", line, err, &errOut)
		}
	}
}

// A million cores asked for are as many as there are: each would have its own
// memory.
func TestJobsAreBoundedByTheCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var out, errOut bytes.Buffer
	if code := run(t.Context(), []string{"size", "--jobs", "1000000"}, &out, &errOut); code != exitDone {
		t.Fatal(errOut.String())
	}
	if got := runtime.GOMAXPROCS(0); got > runtime.NumCPU() {
		t.Errorf("%d cores in use, %d are there", got, runtime.NumCPU())
	}
}
