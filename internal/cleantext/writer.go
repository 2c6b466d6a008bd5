package cleantext

import (
	"io"
	"unicode/utf8"
)

// Writer cleans a stream of text, all but its line ends and tabs, which are the
// program's own.
type Writer struct {
	to      io.Writer
	pending []byte // the beginning of a character that the next call goes on with
	buffer  []byte
}

// NewWriter returns a writer that cleans what it passes on. Flush must be called at
// the end.
func NewWriter(to io.Writer) *Writer { return &Writer{to: to} }

// Write passes on what is harmless.
func (w *Writer) Write(p []byte) (int, error) {
	if len(w.pending) == 0 && passes(p) {
		return w.to.Write(p)
	}
	text := append(w.pending, p...)
	out := w.buffer[:0]
	for len(text) > 0 && utf8.FullRune(text) {
		r, n := utf8.DecodeRune(text) // broken UTF-8 gives U+FFFD
		text = text[n:]
		if r != '\n' && r != '\t' {
			r = harmless(r)
		}
		if r >= 0 {
			out = utf8.AppendRune(out, r)
		}
	}
	w.pending = append([]byte(nil), text...)
	w.buffer = out[:0]
	if _, err := w.to.Write(out); err != nil {
		return 0, err
	}
	return len(p), nil
}

// passes reports whether a piece is printable ASCII with line ends and tabs.
func passes(p []byte) bool {
	for _, c := range p {
		if (c < ' ' || c > '~') && c != '\n' && c != '\t' {
			return false
		}
	}
	return true
}

// Flush writes what is left of a character that never ended.
func (w *Writer) Flush() error {
	if len(w.pending) == 0 {
		return nil
	}
	w.pending = nil
	_, err := w.to.Write([]byte("\uFFFD"))
	return err
}
