package clinalg

// Scalar is the type of a matrix's elements: double or single precision.
type Scalar interface{ complex64 | complex128 }

// Dense is a dense complex matrix stored by rows: element (i, j) is
// Data[i*Stride+j].
type Dense[T Scalar] struct {
	Rows, Cols, Stride int
	Data               []T
}

// Matrix is a matrix in double precision.
type Matrix = Dense[complex128]

// Single is a matrix in single precision: half the bytes, and twice as many
// numbers in a vector register.
type Single = Dense[complex64]

// New returns a zero matrix. The stride is padded to an odd number of cache
// lines, so that the elements of a column do not crowd into a few cache sets.
func New(rows, cols int) *Matrix { return newDense[complex128](rows, cols, Stride(cols)) }

// NewSingle is New in single precision.
func NewSingle(rows, cols int) *Single {
	return newDense[complex64](rows, cols, SingleStride(cols))
}

func newDense[T Scalar](rows, cols, stride int) *Dense[T] {
	if rows < 0 || cols < 0 {
		panic("clinalg: negative dimension")
	}
	return &Dense[T]{rows, cols, stride, make([]T, rows*stride)}
}

// Stride returns the row stride, in elements, that New chooses.
func Stride(cols int) int { return oddLines(cols, 4) }

// SingleStride returns the row stride, in elements, that NewSingle chooses.
func SingleStride(cols int) int { return oddLines(cols, 8) }

// oddLines rounds up to an odd number of cache lines of the given length.
func oddLines(cols, line int) int {
	lines := (cols + line - 1) / line
	return (lines | 1) * line
}

// Row returns row i as a slice of the matrix's own storage.
func (m *Dense[T]) Row(i int) []T {
	return m.Data[i*m.Stride : i*m.Stride+m.Cols]
}

// part returns the block of size rows × cols whose first element is (i, j),
// sharing storage with m.
func (m *Dense[T]) part(i, j, rows, cols int) Dense[T] {
	if rows == 0 || cols == 0 {
		return Dense[T]{Rows: rows, Cols: cols, Stride: m.Stride}
	}
	start := i*m.Stride + j
	end := start + (rows-1)*m.Stride + cols
	return Dense[T]{rows, cols, m.Stride, m.Data[start:end]}
}
