package part

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
)

// version is that of the layout of part files.
const version = 1

// Head is the first line of a part file.
type Head struct {
	Version int    `json:"gapline_part"`
	Command string `json:"command"`
	Part
	Format  string `json:"format"`  // of the rows: text, csv or json; of a search: archive
	Designs int    `json:"designs"` // of the whole work
	Run     string `json:"run"`     // equal for all parts of one run
}

// Foot is the last line of a part file, after the letter E.
type Foot struct {
	Lines   int    `json:"lines"`   // between head and foot
	Skipped int    `json:"skipped"` // designs that cannot exist
	First   string `json:"first"`   // why the first of them cannot
}

// Writer writes a part file.
type Writer struct {
	w     *bufio.Writer
	lines int
}

// NewWriter writes the head.
func NewWriter(w io.Writer, h Head) (*Writer, error) {
	h.Version = version
	out := &Writer{w: bufio.NewWriterSize(w, 1<<16)}
	head, err := json.Marshal(h)
	if err != nil {
		return nil, err
	}
	_, err = out.w.Write(append(head, '\n'))
	return out, err
}

// Line writes one line. text must not hold a line end.
func (w *Writer) Line(letter byte, text []byte) error {
	w.lines++
	w.w.WriteByte(letter)
	w.w.Write(text)
	return w.w.WriteByte('\n') // a bufio.Writer keeps its first error
}

// End writes the foot.
func (w *Writer) End(f Foot) error {
	f.Lines = w.lines
	foot, err := json.Marshal(f)
	if err != nil {
		return err
	}
	w.w.WriteByte('E')
	w.w.Write(append(foot, '\n'))
	return w.w.Flush()
}

// Flush writes what is buffered, without a foot: the part stays incomplete.
func (w *Writer) Flush() error { return w.w.Flush() }

// File is a part file that has been opened.
type File struct {
	Name string
	Head Head
	Foot Foot
	body *bufio.Reader
	file *os.File
}

// longestLine bounds head and foot.
const longestLine = 1 << 16

// Open opens a part file and reads its head and foot. The error says when it is
// no part file or an incomplete one.
func Open(name string) (*File, error) {
	file, err := os.Open(name)
	if pe := (*os.PathError)(nil); errors.As(err, &pe) {
		return nil, fmt.Errorf("%s: %w", name, pe.Err)
	}
	f := &File{Name: name, file: file, body: bufio.NewReaderSize(file, longestLine)}
	if err := f.read(); err != nil {
		file.Close()
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return f, nil
}

// Close closes the file.
func (f *File) Close() error { return f.file.Close() }

func (f *File) read() error {
	head, err := f.body.ReadSlice('\n')
	if err != nil || json.Unmarshal(head, &f.Head) != nil || f.Head.Version == 0 {
		return errors.New("is not a part file: gapline sweep and gapline search write them with --part K/N")
	}
	if f.Head.Version != version {
		return fmt.Errorf("is a part file of version %d: this program reads version %d", f.Head.Version, version)
	}
	if h := f.Head; h.Of < 1 || h.Of > maxParts || h.Number < 1 || h.Number > h.Of {
		return fmt.Errorf("says that it is part %v, which cannot be", h.Part)
	}
	return f.readFoot()
}

func (f *File) readFoot() error {
	incomplete := errors.New("is not complete: run this part again")
	size, err := f.file.Seek(0, io.SeekEnd)
	if err != nil {
		return err
	}
	tail := make([]byte, min(size, longestLine))
	if _, err := f.file.ReadAt(tail, size-int64(len(tail))); err != nil {
		return err
	}
	if !bytes.HasSuffix(tail, []byte{'\n'}) {
		return incomplete
	}
	tail = tail[:len(tail)-1]
	last := tail[bytes.LastIndexByte(tail, '\n')+1:]
	if len(last) == 0 || last[0] != 'E' || json.Unmarshal(last[1:], &f.Foot) != nil {
		return incomplete
	}
	if _, err := f.file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	f.body.Reset(f.file)
	_, err = f.body.ReadSlice('\n') // the head again
	return err
}

// Each calls line with the letter of each line and a reader of the rest of it,
// up to the foot. A line may be of any length; what line leaves unread is
// skipped.
func (f *File) Each(line func(letter byte, text io.Reader) error) error {
	for range f.Foot.Lines {
		letter, err := f.body.ReadByte()
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, io.ErrUnexpectedEOF)
		}
		rest := &lineReader{from: f.body}
		if err := line(letter, rest); err != nil {
			return err
		}
		if _, err := io.Copy(io.Discard, rest); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return nil
}

// lineReader reads up to the end of the line.
type lineReader struct {
	from *bufio.Reader
	left []byte
	done bool
}

func (l *lineReader) Read(p []byte) (int, error) {
	if len(l.left) == 0 && !l.done {
		piece, err := l.from.ReadSlice('\n')
		switch {
		case err == nil:
			l.done = true
			piece = piece[:len(piece)-1]
		case !errors.Is(err, bufio.ErrBufferFull):
			return 0, io.ErrUnexpectedEOF
		}
		l.left = piece
	}
	if len(l.left) == 0 && l.done {
		return 0, io.EOF
	}
	n := copy(p, l.left)
	l.left = l.left[n:]
	return n, nil
}

// Sort puts the parts of one run in order. The error says which are missing,
// given twice, or of another run.
func Sort(files []*File) error {
	slices.SortStableFunc(files, func(a, b *File) int { return a.Head.Number - b.Head.Number })
	first := files[0].Head
	for i, f := range files {
		h := f.Head
		switch {
		case h.Command != first.Command || h.Run != first.Run || h.Of != first.Of || h.Designs != first.Designs || h.Format != first.Format:
			return fmt.Errorf("%s and %s are parts of different runs", files[0].Name, f.Name)
		case i > 0 && h.Number == files[i-1].Head.Number:
			return fmt.Errorf("%s and %s are both part %v", files[i-1].Name, f.Name, h.Part)
		}
	}
	return missing(files)
}

func missing(files []*File) error {
	of := files[0].Head.Of
	if len(files) == of {
		return nil
	}
	want := 1
	for _, f := range files {
		if f.Head.Number != want {
			break
		}
		want++
	}
	return fmt.Errorf("%d of %d parts are given: part %d is missing", len(files), of, want)
}
