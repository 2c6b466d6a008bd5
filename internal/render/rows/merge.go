package rows

import (
	"bufio"
	"fmt"
	"io"

	"gapline/internal/part"
)

// Merge joins the parts of a table, in order, to what one run would have written. It
// returns how many rows were skipped and why the first one was.
func Merge(w io.Writer, files []*part.File) (skipped int, first string, err error) {
	j := Joiner{W: bufio.NewWriter(w), Format: Format(files[0].Head.Format)}
	for i, f := range files {
		listed := 0
		err := f.Each(func(letter byte, text io.Reader) error {
			switch letter {
			case headLine:
				if i > 0 {
					return nil
				}
			case rowLine:
				if err := j.NextRow(); err != nil {
					return err
				}
			case skippedLine:
				line, err := io.ReadAll(text)
				j.Skipped(line)
				listed++
				return err
			default:
				return fmt.Errorf("%s: holds a line of the unknown kind %q", f.Name, letter)
			}
			_, err := io.Copy(j.W, text)
			return err
		})
		if err != nil {
			return 0, "", err
		}
		if j.Format == JSON {
			j.SkippedMore(f.Foot.Skipped - listed)
		}
		if skipped == 0 {
			first = f.Foot.First
		}
		skipped += f.Foot.Skipped
	}
	return skipped, first, j.End()
}
