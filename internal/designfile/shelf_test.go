package designfile

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestShelf(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"b.toml": "fs = 50\n", "a.TOML": "title = \"A\"\nfs = \"45 Hz\"\n", "c.txt": "no driver"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Parse("x.toml", []byte("[woofer]\nfs = \"50 Hz\"\npower = \"300 W\"\nper_box = 2\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := f.Shelf(context.Background(), dir)
	if err != nil || len(shelf) != 2 {
		t.Fatalf("%d drivers, %v", len(shelf), err)
	}
	// The file's parameters replace all of the design's: no power rating is left over.
	a, w := shelf[0], &shelf[0].Design.Woofer
	if a.File != "a.TOML" || a.Title != "A" || a.Faults != nil || w.Fs.Value() != 45 || w.Power.Given() || w.PerBox != 2 {
		t.Errorf("first: %+v", a)
	}
	if b := shelf[1]; b.File != "b.toml" || len(b.Faults) != 1 || b.Faults[0].Line != 1 {
		t.Errorf("second: %+v", b)
	}
	if f.Design.Woofer.Fs.Value() != 50 {
		t.Error("the design itself has changed")
	}

	var faults Problems
	for _, bad := range []string{filepath.Join(dir, "nowhere"), t.TempDir()} {
		if _, err := f.Shelf(context.Background(), bad); !errors.As(err, &faults) || faults[0].Where != bad {
			t.Errorf("%s: %v", bad, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := f.Shelf(ctx, dir); !errors.Is(err, context.Canceled) {
		t.Errorf("ended: %v", err)
	}
}
