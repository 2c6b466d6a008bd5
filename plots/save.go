package plots

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"

	"gapline/internal/wholefile"
)

// Figure is a chart of this package.
type Figure interface {
	// layout draws the figure on a sheet, or says what is wrong with its data.
	layout() (*sheet, error)
	// recaptioned returns it with its caption changed.
	recaptioned(func(*Caption)) Figure
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
	if err := wholefile.Write(path, buf.Bytes()); err != nil {
		return fmt.Errorf("picture %w", err)
	}
	return nil
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
