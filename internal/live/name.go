package live

import (
	"path/filepath"

	"gapline/internal/check"
	"gapline/internal/cleantext"
	"gapline/internal/designfile"

	"errors"
)

// downloadName is what the browser may call the design file that it saves.
func downloadName(file string) string {
	if file == "" || file == "-" {
		return "design.toml"
	}
	return cleantext.Line(filepath.Base(file))
}

// boxFaults are what a design lacks for the low end of a box, with lines of the file.
func boxFaults(file *designfile.File, err error) error {
	var lacks *check.BoxError
	if errors.As(err, &lacks) {
		return file.Problems(lacks.Problems)
	}
	return err
}
