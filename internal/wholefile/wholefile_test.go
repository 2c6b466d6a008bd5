package wholefile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func write(t *testing.T, path, data string) {
	t.Helper()
	if err := Write(path, []byte(data)); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", path, got, err, want)
	}
}

// only fails if the folder holds anything but the named files.
func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(names, " ") {
		t.Errorf("folder holds %v, want %v", got, names)
	}
}

func TestWriteMakesAndReplaces(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	write(t, path, "a long first text")
	write(t, path, "short")
	holds(t, path, "short")
	only(t, dir, "a.txt")
}

func TestWriteNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "empty")
	write(t, path, "")
	holds(t, path, "")
}

func TestWriteFollowsALink(t *testing.T) {
	dir := t.TempDir()
	target, link := filepath.Join(dir, "target"), filepath.Join(dir, "link")
	write(t, target, "old")
	if err := os.Symlink("target", link); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	write(t, link, "new")
	holds(t, target, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info, err)
	}
	only(t, dir, "link", "target")
}

func TestWriteRefuses(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	write(t, file, "kept")
	for path, want := range map[string]string{
		dir:                               "is a folder, not a file",
		filepath.Join(dir, "no", "a.txt"): "cannot write in folder",
		filepath.Join(file, "a.txt"):      "not a directory",
	} {
		err := Write(path, []byte("x"))
		if err == nil || !strings.HasPrefix(err.Error(), path) || !strings.Contains(err.Error(), want) {
			t.Errorf("Write(%s) = %v, want the path and %q", path, err, want)
		}
		if err != nil && strings.Contains(err.Error(), ".tmp") {
			t.Errorf("the message names a temporary file: %v", err)
		}
	}
	holds(t, file, "kept")
	only(t, dir, "file")
}

// A failure on the way leaves the old file and no litter: here the disk is a
// device that is always full.
func TestFailureLeavesTheOldFile(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("needs /dev/full")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	write(t, path, "kept")
	link := filepath.Join(dir, "full")
	if err := os.Symlink("/dev/full", link); err != nil {
		t.Skip(err)
	}
	if err := Write(link, []byte("x")); err == nil || !strings.Contains(err.Error(), "is a device, not a file") {
		t.Errorf("got %v", err)
	}
	holds(t, path, "kept")
	only(t, dir, "a.txt", "full")
}

// The user's umask decides who may read the file, as with any program.
func TestPermissions(t *testing.T) {
	dir := t.TempDir()
	path, plain := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	write(t, path, "x")
	if err := os.WriteFile(plain, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	a, _ := os.Stat(path)
	b, _ := os.Stat(plain)
	if a.Mode() != b.Mode() {
		t.Errorf("mode %v, want that of a plain file, %v", a.Mode(), b.Mode())
	}
}

// What a killed program left of a file goes with the next writing of it, an hour later at
// the earliest, and nothing else does.
func TestAbandonedFilesGo(t *testing.T) {
	dir := t.TempDir()
	age := func(name string, age time.Duration) {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, nil, 0o666); err != nil {
			t.Fatal(err)
		}
		at := time.Now().Add(-age)
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	for name, old := range map[string]time.Duration{
		".a.txt.12-0.tmp":       2 * time.Hour,
		".a.txt.13-0.tmp":       30 * time.Minute, // another process may be at it
		".a.txt.14-0.tmp":       -2 * time.Hour,   // from a clock that runs ahead
		".b.txt.12-0.tmp":       2 * time.Hour,
		".a.txt.12-0.tmp.kept":  2 * time.Hour,
		".a.txt.notes.tmp":      2 * time.Hour,
		".xa.txt.12-0.tmp":      2 * time.Hour,
		".a.txt.more.12-0.tmp":  2 * time.Hour,
		"a.txt.12-0.tmp":        2 * time.Hour,
		".a.txt.999999-99.tmp":  2 * time.Hour,
		".a.txt.999999-100.tmp": time.Minute,
	} {
		age(name, old)
	}
	write(t, filepath.Join(dir, "a.txt"), "new")
	holds(t, filepath.Join(dir, "a.txt"), "new")
	only(t, dir, ".a.txt.12-0.tmp.kept", ".a.txt.13-0.tmp", ".a.txt.14-0.tmp", ".a.txt.999999-100.tmp", ".a.txt.more.12-0.tmp", ".a.txt.notes.tmp",
		".b.txt.12-0.tmp", ".xa.txt.12-0.tmp", "a.txt", "a.txt.12-0.tmp")
}
