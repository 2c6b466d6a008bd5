//go:build !amd64

package clinalg

// tile subtracts the product of a packed panel of tileRows rows and one of
// tileCols columns, both kc deep, from the full tile at c with row stride ldc.
func tile(kc int, a, b []float64, c []complex128, ldc int) {
	tileGo(kc, a, b, c, ldc)
}
