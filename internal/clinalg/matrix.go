package clinalg

// Matrix is a dense complex matrix stored by rows: element (i, j) is
// Data[i*Stride+j].
type Matrix struct {
	Rows, Cols, Stride int
	Data               []complex128
}

// New returns a zero matrix. The stride is padded to an odd number of cache
// lines, so that the elements of a column do not crowd into a few cache sets.
func New(rows, cols int) *Matrix {
	if rows < 0 || cols < 0 {
		panic("clinalg: negative dimension")
	}
	stride := Stride(cols)
	return &Matrix{rows, cols, stride, make([]complex128, rows*stride)}
}

// Stride returns the row stride, in elements, that New chooses.
func Stride(cols int) int {
	const line = 4 // complex128 in a 64-byte cache line
	lines := (cols + line - 1) / line
	return (lines | 1) * line
}

// Row returns row i as a slice of the matrix's own storage.
func (m *Matrix) Row(i int) []complex128 {
	return m.Data[i*m.Stride : i*m.Stride+m.Cols]
}

// part returns the block of size rows × cols whose first element is (i, j),
// sharing storage with m.
func (m *Matrix) part(i, j, rows, cols int) Matrix {
	if rows == 0 || cols == 0 {
		return Matrix{Rows: rows, Cols: cols, Stride: m.Stride}
	}
	start := i*m.Stride + j
	end := start + (rows-1)*m.Stride + cols
	return Matrix{rows, cols, m.Stride, m.Data[start:end]}
}
