// Package wholefile writes files whole or not at all.
package wholefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sync"
	"time"

	"gapline/internal/openfile"
)

// Write writes data to path by way of a temporary file in the same folder, so
// that a failure leaves neither half a file nor litter. An existing file is
// replaced; a link is followed; folders are not made. A temporary file that a killed
// program left of the same path is removed by a call an hour later or more.
func Write(path string, data []byte) error {
	target := path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real // replace what the link points to, not the link
	}
	if info, err := os.Stat(target); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is a %s, not a file", path, openfile.Kind(info.Mode()))
	}
	f, err := openTemp(target)
	if err != nil {
		return fmt.Errorf("%s: cannot write in folder %s: %w", path, filepath.Dir(target), openfile.Cause(err))
	}
	unfinished.Store(f.Name(), nil)
	defer unfinished.Delete(f.Name())
	removeAbandoned(f, filepath.Base(target))
	_, err = f.Write(data)
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("%s: %w", path, openfile.Cause(err))
	}
	return nil
}

// unfinished holds the names of the temporary files being written.
var unfinished sync.Map

// Abandon removes the temporary files of calls of Write that are under way, for a
// program that ends without waiting for them.
func Abandon() {
	unfinished.Range(func(name, _ any) bool {
		os.Remove(name.(string))
		return true
	})
}

// tempName is the name of a temporary file: that of the file, the process and a number.
var tempName = regexp.MustCompile(`^\.(.*)\.[0-9]+-[0-9]+\.tmp$`)

// abandonedAfter is the age from which on a temporary file is taken to be left by a
// program that was killed: what is written is in memory before, so that no disk takes as
// long. The process in its name tells nothing in a folder that several machines share.
const abandonedAfter = time.Hour

// removeAbandoned removes the temporary files of base beside f that are much older than
// f, by the clock of the disk, which gave the dates of both. What cannot be removed stays.
func removeAbandoned(f *os.File, base string) {
	own, err := f.Stat()
	if err != nil {
		return
	}
	dir := filepath.Dir(f.Name())
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if m := tempName.FindStringSubmatch(e.Name()); m == nil || m[1] != base {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && own.ModTime().Sub(info.ModTime()) >= abandonedAfter {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// openTemp makes a new file beside target. OpenFile rather than CreateTemp, so
// that the user's umask decides who may read it.
func openTemp(target string) (f *os.File, err error) {
	for n := range 100 { // other numbers: left by a crash, or in use by a parallel call
		name := filepath.Join(filepath.Dir(target), fmt.Sprintf(".%s.%d-%d.tmp", filepath.Base(target), os.Getpid(), n))
		f, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return f, err
}
