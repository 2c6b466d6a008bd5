package plots

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// Figure is a chart of this package.
type Figure interface {
	// layout draws the figure on a sheet, or says what is wrong with its data.
	layout() (*sheet, error)
}

// Formats lists the file endings that Save knows.
func Formats() []string { return []string{".png", ".svg", ".pdf"} }

// CheckPath says whether Save knows the ending of path. Call it before a long
// computation whose picture is to be saved there.
func CheckPath(path string) error {
	ext := strings.ToLower(filepath.Ext(path))
	for _, known := range Formats() {
		if ext == known {
			return nil
		}
	}
	what := fmt.Sprintf("has the ending %q", filepath.Ext(path))
	if ext == "" {
		what = "has no ending"
	}
	return fmt.Errorf("picture %s %s: use one of %s", path, what, strings.Join(Formats(), ", "))
}

// Save draws fig and writes it to path as PNG (254 dots per inch), SVG or PDF,
// by the path's ending in any case. The file appears whole or not at all; an
// existing file is replaced; folders are not made. The bytes depend on the
// figure only.
func Save(path string, fig Figure) error {
	if err := CheckPath(path); err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := write(&buf, strings.ToLower(filepath.Ext(path)), fig); err != nil {
		return fmt.Errorf("picture %s: %w", path, err)
	}
	return writeWhole(path, buf.Bytes())
}

// write draws fig in the format named by a known file ending.
func write(w io.Writer, ext string, fig Figure) error {
	s, err := fig.layout()
	if err != nil {
		return err
	}
	switch ext {
	case ".png":
		return writePNG(w, s, dotsPerInch)
	case ".svg":
		if _, err := io.WriteString(w, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"); err != nil {
			return err
		}
		return writeSVG(w, s, "gapline")
	default:
		return writePDF(w, s)
	}
}

var idPattern = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`)

// WriteSVG writes fig as one svg element for use inside an HTML page. id, a
// letter followed by letters, digits, - or _, starts the ids of the picture's
// text alternative: give each picture of a page its own. On narrow screens the
// page scales it with the style "max-width: 100%; height: auto".
func WriteSVG(w io.Writer, id string, fig Figure) error {
	if !idPattern.MatchString(id) {
		return fmt.Errorf("picture id %q: use a letter followed by letters, digits, - or _", id)
	}
	s, err := fig.layout()
	if err != nil {
		return err
	}
	return writeSVG(w, s, id)
}

// writeWhole writes a file by way of a temporary one in the same folder, so
// that a failure leaves neither half a file nor litter.
func writeWhole(path string, data []byte) error {
	target := path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real // replace what the link points to, not the link
	}
	if info, err := os.Stat(target); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("picture %s: there is a %s of this name, not a file", path, kindOf(info.Mode()))
	}
	f, err := openTemp(target)
	if err != nil {
		return fmt.Errorf("picture %s: cannot write in folder %s: %w", path, filepath.Dir(target), cause(err))
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("picture %s: %w", path, cause(err))
	}
	return nil
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

// cause strips the temporary file's name from an error.
func cause(err error) error {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		return pathErr.Err
	}
	var linkErr *os.LinkError
	if errors.As(err, &linkErr) {
		return linkErr.Err
	}
	return err
}

func kindOf(mode fs.FileMode) string {
	if mode.IsDir() {
		return "folder"
	}
	return "device"
}
