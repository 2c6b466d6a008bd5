//go:build !amd64

package clinalg

func tileDouble(kc int, a, b, c []complex128, ldc int) { tileGo(kc, doubleCols, a, b, c, ldc) }

func tileSingle(kc int, a, b, c []complex64, ldc int) { tileGo(kc, singleCols, a, b, c, ldc) }

// dot returns the sum of a[i]·x[i], without conjugation.
func dot(a, x []complex64) complex64 { return dotGo(a, x) }
