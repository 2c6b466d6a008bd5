package openfile

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(t *testing.T, size int) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(name, bytes.Repeat([]byte("x"), size), 0o666); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestReadAllBounds(t *testing.T) {
	for size, want := range map[int]string{
		0: "", 3 << 10: "", 4 << 10: "",
		4<<10 + 1: "is 0.0 MB: a letter has at most 4 kB",
		3 << 20:   "is 3.0 MB: a letter has at most 4 kB",
	} {
		data, err := ReadAll(t.Context(), write(t, size), "a letter", 4<<10)
		if want == "" && (err != nil || len(data) != size) || want != "" && (err == nil || err.Error() != want) {
			t.Errorf("%d bytes: read %d, error %v, want %q", size, len(data), err, want)
		}
	}
}

func TestMissingFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "none")
	_, err := Open(t.Context(), name, "a letter")
	if !errors.Is(err, fs.ErrNotExist) || strings.Contains(err.Error(), name) {
		t.Errorf("got %v", err)
	}
}

func TestEndedContextReadsNothing(t *testing.T) {
	name := write(t, 10)
	ctx, cancel := context.WithCancel(t.Context())
	f, err := Open(ctx, name, "a letter")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cancel()
	if n, err := f.Read(make([]byte, 4)); n != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("read %d, %v", n, err)
	}
	if _, err := Open(ctx, name, "a letter"); !errors.Is(err, context.Canceled) {
		t.Errorf("opened: %v", err)
	}
}

func TestReadTwice(t *testing.T) {
	f, err := Regular(t.Context(), write(t, 5<<20), "a letter") // longer than one read
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for range 2 {
		var b bytes.Buffer
		if n, err := b.ReadFrom(f); n != 5<<20 || err != nil || strings.Trim(b.String(), "x") != "" {
			t.Errorf("read %d bytes, error %v", n, err)
		}
		if err := f.Rewind(); err != nil {
			t.Fatal(err)
		}
	}
}
