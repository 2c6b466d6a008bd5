//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// prompt is how long a program may take to end after a signal. It promises one
// second; a busy machine gets longer, and one that waits for its work or its files
// would take minutes.
const prompt = 20 * time.Second

// stops starts a command line that would take minutes, sends it a signal, and wants
// it to end soon, with 1, and to say so. in and out are its standard input and
// output; both may be nil.
func stops(t *testing.T, dir string, signal syscall.Signal, in, out *os.File, args ...string) {
	t.Helper()
	// The signal may come before the program has got as far as to catch it, and ends
	// it at once then; so it gets longer and longer to start.
	for lead := 500 * time.Millisecond; lead < prompt; lead *= 2 {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		cmd := exec.CommandContext(ctx, "gapline", args...)
		errOut := new(bytes.Buffer)
		cmd.Dir, cmd.Stderr = dir, errOut
		if in != nil {
			cmd.Stdin = in
		}
		if out != nil {
			cmd.Stdout = out
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(lead)
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatalf("%v: %v", args, err)
		}
		sent := time.Now()
		err := cmd.Wait()
		took := time.Since(sent)
		if status := cmd.ProcessState.Sys().(syscall.WaitStatus); status.Signaled() && status.Signal() == signal {
			continue
		}
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != exitFailed || !strings.HasSuffix(errOut.String(), stopped+"\n") {
			t.Errorf("%v: %v, said %q", args, err, errOut)
		}
		if took > prompt {
			t.Errorf("%v: ended %v after %v", args, took, signal)
		}
		t.Logf("ended after %v", took)
		return
	}
	t.Fatalf("%v: %v is not caught", args, signal)
}

// Every command that can work for long ends with the first signal.
func TestSignalEndsTheWork(t *testing.T) {
	if testing.Short() {
		t.Skip("half a second for each command")
	}
	var sweep strings.Builder
	for i := range 300_000 { // a fit of minutes
		f := 10 + 0.01*float64(i)
		sweep.WriteString(strconv.FormatFloat(f, 'f', 2, 64) + " " + strconv.FormatFloat(6+30/(1+(f-50)*(f-50)/25)+0.1*float64(i%7), 'f', 3, 64) + "\n")
	}
	dir := workshop(t, map[string]string{"sweep.txt": sweep.String()})
	if _, errOut, code := program(t, dir, "new", "insert.toml", "--starter", "hatch-insert"); code != 0 {
		t.Fatal(errOut)
	}
	for i, line := range []string{
		"wave box.toml --to 20kHz --count 2000 --check",
		"wave box.toml --view field --at 30kHz -o field.png",
		"wave insert.toml --of fold --to 20kHz --count 2000 --check",
		"wave insert.toml --of fold --view bend --count 2000 --check",
		"line insert.toml --set line.boxes=20 --set line.splay= --aim --any-order",
		"line insert.toml --set line.boxes=20 --set line.splay= --tables tables --step 0.1deg",
		"search box.toml --designs 4000000",
		"search box.toml --designs 4000000 --part 1/2",
		"tolerance box.toml --samples 200000 --vary cabinet.pitch=200mm:300mm:0.1mm",
		"sweep box.toml --vary cabinet.pitch=200:300:0.0001mm --csv",
		"sweep box.toml --vary cabinet.pitch=200:300:0.1mm --vary horn.mouth_width=200:500:0.1mm -o map.png",
		"box --fit sweep.txt",
	} {
		t.Run(strings.Fields(line)[0]+strconv.Itoa(i), func(t *testing.T) {
			stops(t, dir, []syscall.Signal{syscall.SIGINT, syscall.SIGTERM}[i%2], nil, nil, strings.Fields(line)...)
		})
	}
	left, err := filepath.Glob(filepath.Join(dir, ".*.tmp"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// A program that waits for standard input, or for a reader of its output, is not at
// work and still ends.
func TestSignalEndsTheWaiting(t *testing.T) {
	dir := workshop(t, nil)
	in, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	defer w.Close()
	stops(t, dir, syscall.SIGINT, in, nil, "size", "/dev/stdin")

	r, out, err := os.Pipe() // nobody reads it
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer out.Close()
	stops(t, dir, syscall.SIGINT, nil, out, "sweep", "box.toml", "--vary", "cabinet.pitch=200:300:0.001mm", "--csv")
}
