package plots

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"
	"math"

	"gapline/internal/quantity"
)

// encodePNG writes an opaque image as a PNG file (ISO/IEC 15948) of 8 bits for each of
// red, green and blue, which states its resolution in dots per inch. Each row is stored
// as its difference from the row above (filter type 2) and compressed the fast way:
// drawings repeat their rows, so that the file is a tenth larger than with the library's
// encoder, which tries five filters on every row, and takes a quarter of its time. The
// library has no place for the resolution either.
func encodePNG(w io.Writer, m *image.RGBA, dpi float64) error {
	size := m.Bounds().Size()
	head := binary.BigEndian.AppendUint32(nil, uint32(size.X))
	head = binary.BigEndian.AppendUint32(head, uint32(size.Y))
	head = append(head, 8, 2, 0, 0, 0) // bits, RGB, the only compression and filter method, not interlaced
	perMetre := uint32(math.Round(dpi / quantity.OneInch))
	phys := binary.BigEndian.AppendUint32(nil, perMetre)
	phys = binary.BigEndian.AppendUint32(phys, perMetre)
	phys = append(phys, 1) // unit: metre
	data, err := compressRows(m)
	if err != nil {
		return err
	}
	file := []byte("\x89PNG\r\n\x1a\n")
	for _, c := range []struct {
		name string
		data []byte
	}{{"IHDR", head}, {"pHYs", phys}, {"IDAT", data}, {"IEND", nil}} {
		file = appendChunk(file, c.name, c.data)
	}
	_, err = w.Write(file)
	return err
}

// appendChunk appends a chunk with its length and its check sum.
func appendChunk(file []byte, name string, data []byte) []byte {
	file = binary.BigEndian.AppendUint32(file, uint32(len(data)))
	start := len(file)
	file = append(append(file, name...), data...)
	return binary.BigEndian.AppendUint32(file, crc32.ChecksumIEEE(file[start:]))
}

// compressRows returns the rows of an image as the data of a PNG file.
func compressRows(m *image.RGBA) ([]byte, error) {
	var out bytes.Buffer
	z, err := zlib.NewWriterLevel(&out, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	size := m.Bounds().Size()
	row := make([]byte, 1+3*size.X)
	row[0] = 2
	above := make([]byte, 4*size.X)
	for y := range size.Y {
		here := m.Pix[y*m.Stride:][:4*size.X]
		for x, to := 0, row[1:]; x+4 <= len(here) && len(to) >= 3; x, to = x+4, to[3:] {
			to[0], to[1], to[2] = here[x]-above[x], here[x+1]-above[x+1], here[x+2]-above[x+2]
		}
		if _, err := z.Write(row); err != nil {
			return nil, err
		}
		above = here
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
