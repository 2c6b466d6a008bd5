package bem3

import (
	"unsafe"

	"golang.org/x/sys/cpu"
)

// Offsets that the assembly counts on: a difference below zero does not compile.
const (
	_ = uint(unsafe.Offsetof(block{}.normal)-576) + uint(576-unsafe.Offsetof(block{}.normal))
	_ = uint(unsafe.Offsetof(block{}.scale)-672) + uint(672-unsafe.Offsetof(block{}.scale))
	_ = uint(unsafe.Offsetof(block{}.curl)-704) + uint(704-unsafe.Offsetof(block{}.curl))
	_ = uint(unsafe.Offsetof(outer{}.curl)-228) + uint(228-unsafe.Offsetof(outer{}.curl))
	_ = uint(unsafe.Offsetof(wave{}.tiny)-4) + uint(4-unsafe.Offsetof(wave{}.tiny))
)

//go:noescape
func evaluateAVX2(x *[3]float32, b *block, near, coupling *lanes, w *wave, slope, green *[points][2]lanes)

//go:noescape
func testAVX2(rows int, factors *float32, from, half *[points][points][2]lanes)

//go:noescape
func trialAVX2(factors *[points][points]float32, half *[points][points][2]lanes, out *rows)

//go:noescape
func curlAVX2(o *outer, b *block, beta float32, half *[points][points][2]lanes, tables *[4][3][3][2]lanes, out *rows)

//go:noescape
func driveAVX2(slope, green, q *[points][2]lanes, beta float32, sum *[2]lanes)

// fastKernel says whether the processor runs the kernels in assembly.
var fastKernel = cpu.X86.HasAVX2 && cpu.X86.HasFMA

// evaluate is evaluateGo.
func evaluate(x *[3]float32, b *block, near, coupling *lanes, w *wave, slope, green *[points][2]lanes) {
	if !fastKernel {
		evaluateGo(x, b, near, coupling, w, slope, green)
		return
	}
	evaluateAVX2(x, b, near, coupling, w, slope, green)
}

// contract is contractGo.
func contract(o *outer, b *block, p *pairing, beta float32, out *rows) {
	if !fastKernel {
		contractGo(o, b, p, beta, out)
		return
	}
	testAVX2(points, &o.test[0][0], &p.slope, &p.half)
	trialAVX2(&trialAt, &p.half, out)
	if beta != 0 {
		testAVX2(len(linearAt), &linearAt[0][0], &p.green, &p.half)
		curlAVX2(o, b, beta, &p.half, &p.tables, out)
	}
}

// drive is driveGo.
func drive(slope, green, q *[points][2]lanes, beta float32, sum *[2]lanes) {
	if !fastKernel {
		driveGo(slope, green, q, beta, sum)
		return
	}
	driveAVX2(slope, green, q, beta, sum)
}
