package clinalg

// The product works on tiles of tileRows × tileCols complex numbers: with AVX2
// their accumulators just fill the sixteen vector registers.
const (
	tileRows = 3
	tileCols = 4
)

// tileGo is the kernel in Go. a holds, for each of kc steps, the tileRows
// elements of one column of the left factor as pairs re, im; b the tileCols
// elements of one row of the right factor.
func tileGo(kc int, a, b []float64, c []complex128, ldc int) {
	for i := range tileRows {
		var re0, im0, re1, im1, re2, im2, re3, im3 float64
		for k := range kc {
			x, y := a[2*(tileRows*k+i)], a[2*(tileRows*k+i)+1]
			bk := b[2*tileCols*k : 2*tileCols*k+2*tileCols]
			re0 += x*bk[0] - y*bk[1]
			im0 += x*bk[1] + y*bk[0]
			re1 += x*bk[2] - y*bk[3]
			im1 += x*bk[3] + y*bk[2]
			re2 += x*bk[4] - y*bk[5]
			im2 += x*bk[5] + y*bk[4]
			re3 += x*bk[6] - y*bk[7]
			im3 += x*bk[7] + y*bk[6]
		}
		row := c[i*ldc : i*ldc+tileCols]
		row[0] -= complex(re0, im0)
		row[1] -= complex(re1, im1)
		row[2] -= complex(re2, im2)
		row[3] -= complex(re3, im3)
	}
}

// packRows copies rows of m, kc columns from column k on, into panels of
// tileRows rows; rows that are missing in the last panel become zero.
func packRows(dst []float64, m Matrix, i, rows, k, kc int) {
	for p := 0; p < rows; p += tileRows {
		panel := dst[2*p*kc : 2*(p+tileRows)*kc]
		for r := range tileRows {
			if p+r >= rows {
				for t := range kc {
					panel[2*(tileRows*t+r)], panel[2*(tileRows*t+r)+1] = 0, 0
				}
				continue
			}
			start := (i+p+r)*m.Stride + k
			for t, v := range m.Data[start : start+kc] {
				panel[2*(tileRows*t+r)], panel[2*(tileRows*t+r)+1] = real(v), imag(v)
			}
		}
	}
}

// packCols copies kc rows of m from row k on, columns j to j+cols, into panels
// of tileCols columns; columns missing in the last panel become zero.
func packCols(dst []float64, m Matrix, k, kc, j, cols int) {
	for t := range kc {
		start := (k+t)*m.Stride + j
		row := m.Data[start : start+cols]
		for p := 0; p < cols; p += tileCols {
			out := dst[2*(p*kc+tileCols*t) : 2*(p*kc+tileCols*t+tileCols)]
			n := min(tileCols, cols-p)
			for c, v := range row[p : p+n] {
				out[2*c], out[2*c+1] = real(v), imag(v)
			}
			for c := n; c < tileCols; c++ {
				out[2*c], out[2*c+1] = 0, 0
			}
		}
	}
}
