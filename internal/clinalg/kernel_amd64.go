package clinalg

import "golang.org/x/sys/cpu"

// kernelAVX2 is tileGo in AVX2 and FMA instructions.
//
//go:noescape
func kernelAVX2(kc int, a, b *float64, c *complex128, ldc int)

// fastKernel says whether the processor runs kernelAVX2.
var fastKernel = cpu.X86.HasAVX2 && cpu.X86.HasFMA

// tile subtracts the product of a packed panel of tileRows rows and one of
// tileCols columns, both kc deep, from the full tile at c with row stride ldc.
func tile(kc int, a, b []float64, c []complex128, ldc int) {
	if !fastKernel {
		tileGo(kc, a, b, c, ldc)
		return
	}
	_ = a[:2*tileRows*kc]
	_ = b[:2*tileCols*kc]
	_ = c[(tileRows-1)*ldc+tileCols-1]
	kernelAVX2(kc, &a[0], &b[0], &c[0], ldc)
}
