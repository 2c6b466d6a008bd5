package clinalg

// The product works on tiles of tileRows × cols complex numbers, cols being 4 in
// double and 8 in single precision: with AVX2 their accumulators just fill the
// sixteen vector registers.
const (
	tileRows   = 3
	doubleCols = 4
	singleCols = 8
)

// kernel is the product of one tile in one precision.
type kernel[T Scalar] struct {
	cols int
	// tile subtracts the product of a packed panel of tileRows rows and one of
	// cols columns, both kc deep, from the full tile at c with row stride ldc.
	tile func(kc int, a, b, c []T, ldc int)
}

// kernelOf returns the kernel for T.
func kernelOf[T Scalar]() kernel[T] {
	var zero T
	if _, single := any(zero).(complex64); single {
		return kernel[T]{singleCols, any(tileSingle).(func(int, []T, []T, []T, int))}
	}
	return kernel[T]{doubleCols, any(tileDouble).(func(int, []T, []T, []T, int))}
}

// tileGo is the kernel in Go. a holds, for each of kc steps, the tileRows
// elements of one column of the left factor; b the cols elements of one row of
// the right factor.
func tileGo[T Scalar](kc, cols int, a, b, c []T, ldc int) {
	for i := range tileRows {
		for j := 0; j < cols; j += 4 {
			var s0, s1, s2, s3 T
			for k := range kc {
				x := a[tileRows*k+i]
				bk := b[cols*k+j : cols*k+j+4]
				s0 += x * bk[0]
				s1 += x * bk[1]
				s2 += x * bk[2]
				s3 += x * bk[3]
			}
			row := c[i*ldc+j : i*ldc+j+4]
			row[0] -= s0
			row[1] -= s1
			row[2] -= s2
			row[3] -= s3
		}
	}
}

// packRows copies rows of m, kc columns from column k on, into panels of
// tileRows rows; rows that are missing in the last panel become zero.
func packRows[T Scalar](dst []T, m Dense[T], i, rows, k, kc int) {
	for p := 0; p < rows; p += tileRows {
		panel := dst[p*kc : (p+tileRows)*kc]
		for r := range tileRows {
			if p+r >= rows {
				for t := range kc {
					panel[tileRows*t+r] = 0
				}
				continue
			}
			start := (i+p+r)*m.Stride + k
			for t, v := range m.Data[start : start+kc] {
				panel[tileRows*t+r] = v
			}
		}
	}
}

// packCols copies kc rows of m from row k on, columns j to j+cols, into panels
// of width columns; columns missing in the last panel become zero.
func packCols[T Scalar](dst []T, m Dense[T], k, kc, j, cols, width int) {
	for t := range kc {
		start := (k+t)*m.Stride + j
		row := m.Data[start : start+cols]
		for p := 0; p < cols; p += width {
			out := dst[p*kc+width*t : p*kc+width*t+width]
			n := copy(out, row[p:min(p+width, cols)])
			clear(out[n:])
		}
	}
}
