package part

import (
	"bufio"
	"encoding/json"
	"io"
)

// version is that of the layout of part files.
const version = 2

// Head is the first line of a part file.
type Head struct {
	Version int    `json:"gapline_part"`
	Command string `json:"command"`
	Part
	Format  string `json:"format"`  // of the rows: text, csv or json; of a search: archive; of wave: points
	Designs int    `json:"designs"` // of the whole work; of wave: frequencies
	Run     string `json:"run"`     // equal for all parts of one run
}

// Foot is the last line of a part file, after the letter E.
type Foot struct {
	Lines   int    `json:"lines"`   // between head and foot
	Skipped int    `json:"skipped"` // designs that cannot exist or, of a search, be built
	First   string `json:"first"`   // why the first of them cannot
}

// Writer writes a part file.
type Writer struct {
	w     *bufio.Writer
	chain chain
	seal  seal
}

// NewWriter writes the head.
func NewWriter(w io.Writer, h Head) (*Writer, error) {
	h.Version = version
	out := &Writer{w: bufio.NewWriterSize(w, 1<<16), chain: newChain()}
	head, err := json.Marshal(h)
	if err != nil {
		return nil, err
	}
	out.seal.Head = out.chain.add(head)
	_, err = out.w.Write(append(head, '\n'))
	return out, err
}

// Line writes one line. text must not hold a line end.
func (w *Writer) Line(letter byte, text []byte) error {
	w.seal.Lines++
	w.w.WriteByte(letter)
	w.w.WriteString(w.chain.add([]byte{letter}, text))
	w.w.Write(text)
	return w.w.WriteByte('\n') // a bufio.Writer keeps its first error
}

// End writes the foot.
func (w *Writer) End(f Foot) error {
	f.Lines = w.seal.Lines
	w.seal.Foot = f
	foot, err := w.seal.close(&w.chain)
	if err != nil {
		return err
	}
	w.w.WriteByte(footLetter)
	w.w.Write(append(foot, '\n'))
	return w.w.Flush()
}

// Flush writes what is buffered, without a foot: the part stays incomplete.
func (w *Writer) Flush() error { return w.w.Flush() }
