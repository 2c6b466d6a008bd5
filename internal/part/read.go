package part

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"gapline/internal/openfile"
)

// File is a part file that has been opened and checked.
type File struct {
	Name string
	Head Head
	Foot Foot
	foot []byte // as it stands in the file
	mark string // of the head, as the foot says
	body *bufio.Reader
	file *openfile.File
}

// longestLine bounds head and foot.
const longestLine = 1 << 16

// Open opens a part file and reads it once, line by line, to see that it is whole
// and that every line stands as it was written. The error says when it is no part
// file, an incomplete one, or which line is wrong.
func Open(ctx context.Context, name string) (*File, error) {
	file, err := openfile.Regular(ctx, name, "a part file")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f := &File{Name: name, file: file, body: bufio.NewReaderSize(file, longestLine)}
	err = f.readFoot()
	if err == nil {
		err = f.walk(func(byte, io.Reader) error { return nil })
	}
	if err != nil {
		file.Close()
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return f, nil
}

// Close closes the file.
func (f *File) Close() error { return f.file.Close() }

// readFoot reads the head, to tell a part file from another one, and then the foot,
// which says how many lines there are.
func (f *File) readFoot() error {
	if _, err := f.readHead(); err != nil {
		return err
	}
	incomplete := errors.New("is not complete: run this part again")
	tail := make([]byte, min(f.file.Size, longestLine))
	if _, err := f.file.ReadAt(tail, f.file.Size-int64(len(tail))); err != nil {
		return err
	}
	if !bytes.HasSuffix(tail, []byte{'\n'}) {
		return incomplete
	}
	tail = tail[:len(tail)-1]
	last := tail[bytes.LastIndexByte(tail, '\n')+1:]
	var s seal
	if len(last) == 0 || last[0] != footLetter || json.Unmarshal(last[1:], &s) != nil {
		return incomplete
	}
	f.Foot, f.foot, f.mark = s.Foot, last, s.Head
	return nil
}

// readHead reads the first line from the start of the file.
func (f *File) readHead() ([]byte, error) {
	if err := f.file.Rewind(); err != nil {
		return nil, err
	}
	f.body.Reset(f.file)
	head, err := f.body.ReadSlice('\n')
	if err != nil || json.Unmarshal(head, &f.Head) != nil || f.Head.Version == 0 {
		return nil, errors.New("is not a part file: gapline sweep, search and wave write them with --part K/N")
	}
	if f.Head.Version != version {
		return nil, fmt.Errorf("is a part file of version %d: this program reads version %d", f.Head.Version, version)
	}
	if h := f.Head; h.Of < 1 || h.Of > MaxParts || h.Number < 1 || h.Number > h.Of {
		return nil, fmt.Errorf("says that it is part %v, which cannot be", h.Part)
	}
	return head[:len(head)-1], nil
}

// Each calls line with the letter of each line and a reader of the rest of it,
// from behind the head up to the foot. A line may be of any length; what line
// leaves unread is skipped.
func (f *File) Each(line func(letter byte, text io.Reader) error) error {
	if err := f.walk(line); err != nil {
		return fmt.Errorf("%s: %w", f.Name, err)
	}
	return nil
}

// walk reads the file from its start and checks each line behind line's back.
func (f *File) walk(line func(letter byte, text io.Reader) error) error {
	head, err := f.readHead()
	if err != nil {
		return err
	}
	c := newChain()
	s := seal{Foot: f.Foot, Head: c.add(head)}
	if s.Head != f.mark {
		return altered(1)
	}
	for n := range f.Foot.Lines {
		if err := f.line(n+2, &c, line); err != nil {
			return err
		}
	}
	want, err := s.close(&c)
	if err != nil {
		return err
	}
	last, err := f.body.ReadBytes('\n')
	switch {
	case err != nil && !errors.Is(err, io.EOF):
		return err
	case !bytes.Equal(last, append(bytes.Clone(f.foot), '\n')):
		return fmt.Errorf("has more than the %d lines that its last one counts: run this part again", f.Foot.Lines)
	case !bytes.Equal(f.foot[1:], want):
		return altered(f.Foot.Lines + 2)
	}
	return nil
}

// altered says which line is wrong.
func altered(line int) error {
	return fmt.Errorf("line %d was altered, or does not stand where it was written: run this part again", line)
}

// line hands on line n of the file and then checks it.
func (f *File) line(n int, c *chain, do func(letter byte, text io.Reader) error) error {
	var start [1 + markLength]byte
	if _, err := io.ReadFull(f.body, start[:]); err != nil {
		return short(err)
	}
	if start[0] == footLetter {
		return short(io.EOF)
	}
	c.writer().Write(start[:1])
	text := io.TeeReader(&lineReader{from: f.body}, c.writer())
	if err := do(start[0], text); err != nil {
		return err
	}
	if _, err := io.Copy(io.Discard, text); err != nil {
		return short(err)
	}
	if c.close() != string(start[1:]) {
		return altered(n)
	}
	return nil
}

// short says that a file ends before its lines do.
func short(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("has fewer lines than its last one counts: run this part again")
	}
	return err
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
		case errors.Is(err, io.EOF):
			return 0, io.ErrUnexpectedEOF
		case !errors.Is(err, bufio.ErrBufferFull):
			return 0, err
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
