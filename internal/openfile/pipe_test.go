//go:build unix

package openfile

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// What is no file is refused; a pipe without a writer would keep a plain open
// waiting for ever.
func TestRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		dir:         "is a folder: a letter is needed",
		pipe:        "is a pipe: a letter is needed, in a regular file or on standard input",
		"/dev/zero": "is a device: a letter is needed, in a regular file or on standard input",
	} {
		if _, err := Open(t.Context(), name, "a letter"); err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", name, err, want)
		}
	}
}

// withInput makes a pipe the standard input while do runs, and names it.
func withInput(t *testing.T, do func(name string, w *os.File)) {
	t.Helper()
	if _, err := os.Stat("/proc/self/fd"); err != nil {
		t.Skip("needs /proc")
	}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	old := os.Stdin
	os.Stdin = r
	defer func() { os.Stdin = old }()
	do(fmt.Sprintf("/proc/self/fd/%d", r.Fd()), w)
}

func TestStandardInput(t *testing.T) {
	withInput(t, func(name string, w *os.File) {
		w.WriteString("words")
		w.Close()
		if data, err := ReadAll(t.Context(), name, "a letter", 100); string(data) != "words" || err != nil {
			t.Errorf("%q, %v", data, err)
		}
	})
	withInput(t, func(name string, _ *os.File) {
		if _, err := Regular(t.Context(), name, "a letter"); err == nil || err.Error() != "is standard input, which can be read once only: a letter in a regular file is needed" {
			t.Errorf("got %v", err)
		}
	})
}

// A reader that waits for input ends with the context.
func TestWaitingEndsWithTheContext(t *testing.T) {
	withInput(t, func(name string, w *os.File) {
		ctx, cancel := context.WithCancel(t.Context())
		time.AfterFunc(50*time.Millisecond, cancel)
		if _, err := ReadAll(ctx, name, "a letter", 100); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v", err)
		}
	})
}
