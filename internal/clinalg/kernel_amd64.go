package clinalg

import "golang.org/x/sys/cpu"

// kernelAVX2 is tileGo for double precision in AVX2 and FMA instructions.
//
//go:noescape
func kernelAVX2(kc int, a, b, c *complex128, ldc int)

// kernelSingleAVX2 is tileGo for single precision in AVX2 and FMA instructions.
//
//go:noescape
func kernelSingleAVX2(kc int, a, b, c *complex64, ldc int)

// dotAVX2 adds the sums of a[i]·x[i], without conjugation, over 4·quads numbers
// to sum, in AVX2 and FMA instructions.
//
//go:noescape
func dotAVX2(quads int, a, x *complex64, sum *complex64)

// fastKernel says whether the processor runs the kernels in assembly.
var fastKernel = cpu.X86.HasAVX2 && cpu.X86.HasFMA

func tileDouble(kc int, a, b, c []complex128, ldc int) {
	if !fastKernel {
		tileGo(kc, doubleCols, a, b, c, ldc)
		return
	}
	_ = a[:tileRows*kc]
	_ = b[:doubleCols*kc]
	_ = c[(tileRows-1)*ldc+doubleCols-1]
	kernelAVX2(kc, &a[0], &b[0], &c[0], ldc)
}

func tileSingle(kc int, a, b, c []complex64, ldc int) {
	if !fastKernel {
		tileGo(kc, singleCols, a, b, c, ldc)
		return
	}
	_ = a[:tileRows*kc]
	_ = b[:singleCols*kc]
	_ = c[(tileRows-1)*ldc+singleCols-1]
	kernelSingleAVX2(kc, &a[0], &b[0], &c[0], ldc)
}

// dot returns the sum of a[i]·x[i], without conjugation.
func dot(a, x []complex64) complex64 {
	if !fastKernel {
		return dotGo(a, x)
	}
	x = x[:len(a)]
	quads := len(a) / 4
	sum := dotGo(a[4*quads:], x[4*quads:])
	if quads > 0 {
		dotAVX2(quads, &a[0], &x[0], &sum)
	}
	return sum
}
