#include "textflag.h"

// Constants, one to each lane.
#define EIGHT(name, bits) \
	DATA name<>+0(SB)/4, bits; \
	DATA name<>+4(SB)/4, bits; \
	DATA name<>+8(SB)/4, bits; \
	DATA name<>+12(SB)/4, bits; \
	DATA name<>+16(SB)/4, bits; \
	DATA name<>+20(SB)/4, bits; \
	DATA name<>+24(SB)/4, bits; \
	DATA name<>+28(SB)/4, bits; \
	GLOBL name<>(SB), RODATA|NOPTR, $32

EIGHT(one, $0x3f800000)
EIGHT(half, $0x3f000000)
EIGHT(quarter, $0x3e800000)
EIGHT(inversePi, $0x3ea2f983)
EIGHT(piHigh, $0x40490000)
EIGHT(piMiddle, $0x3a7da000)
EIGHT(piLow, $0x34222169)
EIGHT(s0, $0xbe2aaaab)
EIGHT(s1, $0x3c088889)
EIGHT(s2, $0xb9500d01)
EIGHT(s3, $0x3638ef1d)
EIGHT(s4, $0xb2d7322b)
EIGHT(c0, $0xbf000000)
EIGHT(c1, $0x3d2aaaab)
EIGHT(c2, $0xbab60b61)
EIGHT(c3, $0x37d00d01)
EIGHT(c4, $0xb493f27e)
EIGHT(c5, $0x310f76c7)
EIGHT(minus, $0x80000000)

// func evaluateAVX2(x *[3]float32, b *block, near, coupling *lanes, w *wave, slope, green *[6][2]lanes)
//
// evaluateGo, a point of the block's elements at a time. Y0 to Y2 hold x, Y3 k,
// Y14 near and Y15 the square of the least distance.
TEXT ·evaluateAVX2(SB), NOSPLIT, $0-56
	MOVQ x+0(FP), AX
	MOVQ b+8(FP), SI
	MOVQ near+16(FP), BX
	MOVQ coupling+24(FP), DX
	MOVQ w+32(FP), CX
	MOVQ slope+40(FP), DI
	MOVQ green+48(FP), R8
	VBROADCASTSS (AX), Y0
	VBROADCASTSS 4(AX), Y1
	VBROADCASTSS 8(AX), Y2
	VBROADCASTSS (CX), Y3
	VBROADCASTSS 4(CX), Y15
	VMOVUPS (BX), Y14
	LEAQ 576(SI), R9 // normals, then scale
	MOVQ $6, CX

point:
	VSUBPS (SI), Y0, Y4
	VSUBPS 32(SI), Y1, Y5
	VSUBPS 64(SI), Y2, Y6
	VMULPS Y4, Y4, Y7
	VFMADD231PS Y5, Y5, Y7
	VFMADD231PS Y6, Y6, Y7
	VMAXPS Y15, Y7, Y7
	VMULPS (R9), Y4, Y4
	VFMADD231PS 32(R9), Y5, Y4
	VFMADD231PS 64(R9), Y6, Y4 // height
	VSQRTPS Y7, Y7
	VMOVUPS one<>(SB), Y6
	VDIVPS Y7, Y6, Y6 // 1/r
	VMULPS Y3, Y7, Y7 // phase

	// Sine in Y11 and cosine in Y12.
	VMULPS inversePi<>(SB), Y7, Y8
	VROUNDPS $0, Y8, Y8
	VMOVAPS Y7, Y9
	VFNMADD231PS piHigh<>(SB), Y8, Y9
	VFNMADD231PS piMiddle<>(SB), Y8, Y9
	VFNMADD231PS piLow<>(SB), Y8, Y9
	VCVTPS2DQ Y8, Y8
	VPSLLD $31, Y8, Y8 // sign of odd multiples of π
	VMULPS Y9, Y9, Y10
	VMOVUPS s4<>(SB), Y11
	VMOVUPS c5<>(SB), Y12
	VFMADD213PS c4<>(SB), Y10, Y12
	VFMADD213PS s3<>(SB), Y10, Y11
	VFMADD213PS c3<>(SB), Y10, Y12
	VFMADD213PS s2<>(SB), Y10, Y11
	VFMADD213PS c2<>(SB), Y10, Y12
	VFMADD213PS s1<>(SB), Y10, Y11
	VFMADD213PS c1<>(SB), Y10, Y12
	VFMADD213PS s0<>(SB), Y10, Y11
	VFMADD213PS c0<>(SB), Y10, Y12
	VMULPS Y10, Y11, Y11
	VFMADD213PS Y9, Y9, Y11
	VFMADD213PS one<>(SB), Y10, Y12
	VXORPS Y8, Y11, Y11
	VXORPS Y8, Y12, Y12

	VMULPS 96(R9), Y6, Y13 // scale over r
	VMULPS Y6, Y6, Y6
	VMULPS Y13, Y4, Y4
	VMULPS Y6, Y4, Y4 // h
	VMULPS Y7, Y7, Y8
	VMULPS half<>(SB), Y8, Y8
	VMOVUPS one<>(SB), Y5
	VADDPS Y8, Y5, Y6
	VSUBPS Y8, Y5, Y5
	VMOVAPS Y12, Y10
	VFNMADD231PS Y14, Y5, Y10
	VMULPS Y13, Y10, Y10 // real part of green
	VMULPS Y13, Y11, Y5
	VXORPS minus<>(SB), Y5, Y5 // imaginary part
	VMOVUPS Y10, (R8)
	VMOVUPS Y5, 32(R8)

	VMOVAPS Y12, Y9
	VFMADD231PS Y7, Y11, Y9
	VFNMADD231PS Y14, Y6, Y9
	VMULPS Y4, Y9, Y9
	VFMSUB213PS Y11, Y7, Y12
	VMULPS Y4, Y12, Y12
	VMOVUPS (DX), Y6
	VFNMSUB231PS Y5, Y6, Y9
	VFMSUB231PS Y10, Y6, Y12
	VMOVUPS Y9, (DI)
	VMOVUPS Y12, 32(DI)

	ADDQ $96, SI
	ADDQ $64, DI
	ADDQ $64, R8
	DECQ CX
	JNZ point
	VZEROUPPER
	RET

// func driveAVX2(slope, green, q *[6][2]lanes, beta float32, sum *[2]lanes)
//
// driveGo. Y0 and Y1 hold the sum, Y2 beta.
TEXT ·driveAVX2(SB), NOSPLIT, $0-40
	MOVQ slope+0(FP), SI
	MOVQ green+8(FP), BX
	MOVQ q+16(FP), DX
	VBROADCASTSS beta+24(FP), Y2
	MOVQ sum+32(FP), DI
	VMOVUPS (DI), Y0
	VMOVUPS 32(DI), Y1
	MOVQ $6, CX

point:
	VMOVUPS (BX), Y3
	VMOVUPS 32(BX), Y4
	VFNMADD231PS 32(SI), Y2, Y3
	VFMADD231PS (SI), Y2, Y4
	VMOVUPS (DX), Y5
	VMOVUPS 32(DX), Y6
	VFMADD231PS Y3, Y5, Y0
	VFNMADD231PS Y4, Y6, Y0
	VFMADD231PS Y3, Y6, Y1
	VFMADD231PS Y4, Y5, Y1
	ADDQ $64, SI
	ADDQ $64, BX
	ADDQ $64, DX
	DECQ CX
	JNZ point
	VMOVUPS Y0, (DI)
	VMOVUPS Y1, 32(DI)
	VZEROUPPER
	RET

// One of six terms of a sum: the factor at off(R9) times two registers.
#define TERM(off, re, im) \
	VBROADCASTSS off(R9), Y14; \
	VFMADD231PS re, Y14, Y12; \
	VFMADD231PS im, Y14, Y13

// The sum of six complex numbers in Y0 to Y11 with the factors at R9, added to
// Y12 and Y13.
#define SUM \
	TERM(0, Y0, Y1); \
	TERM(4, Y2, Y3); \
	TERM(8, Y4, Y5); \
	TERM(12, Y6, Y7); \
	TERM(16, Y8, Y9); \
	TERM(20, Y10, Y11)

// Six complex numbers at SI, so many bytes apart, to Y0 to Y11.
#define LOAD(step) \
	VMOVUPS 0*step(SI), Y0; \
	VMOVUPS 0*step+32(SI), Y1; \
	VMOVUPS 1*step(SI), Y2; \
	VMOVUPS 1*step+32(SI), Y3; \
	VMOVUPS 2*step(SI), Y4; \
	VMOVUPS 2*step+32(SI), Y5; \
	VMOVUPS 3*step(SI), Y6; \
	VMOVUPS 3*step+32(SI), Y7; \
	VMOVUPS 4*step(SI), Y8; \
	VMOVUPS 4*step+32(SI), Y9; \
	VMOVUPS 5*step(SI), Y10; \
	VMOVUPS 5*step+32(SI), Y11

// func testAVX2(rows int, factors *float32, from, half *[6][6][2]lanes)
//
// half[i][b] = sum over a of factors[i][a]·from[a][b].
TEXT ·testAVX2(SB), NOSPLIT, $0-32
	MOVQ factors+8(FP), BX
	MOVQ from+16(FP), SI
	MOVQ half+24(FP), DX
	MOVQ $6, CX

column:
	LOAD(384)
	MOVQ BX, R9
	MOVQ DX, DI
	MOVQ rows+0(FP), AX

row:
	VXORPS Y12, Y12, Y12
	VXORPS Y13, Y13, Y13
	SUM
	VMOVUPS Y12, (DI)
	VMOVUPS Y13, 32(DI)
	ADDQ $24, R9
	ADDQ $384, DI
	DECQ AX
	JNZ row
	ADDQ $64, SI
	ADDQ $64, DX
	DECQ CX
	JNZ column
	VZEROUPPER
	RET

// func trialAVX2(factors *[6][6]float32, half *[6][6][2]lanes, out *rows)
//
// out[i][j] += sum over b of factors[j][b]·half[i][b].
TEXT ·trialAVX2(SB), NOSPLIT, $0-24
	MOVQ factors+0(FP), BX
	MOVQ half+8(FP), SI
	MOVQ out+16(FP), DX
	MOVQ $6, CX

row:
	LOAD(64)
	MOVQ BX, R9
	MOVQ (DX), DI
	MOVQ $6, AX

column:
	VMOVUPS (DI), Y12
	VMOVUPS 32(DI), Y13
	SUM
	VMOVUPS Y12, (DI)
	VMOVUPS Y13, 32(DI)
	ADDQ $24, R9
	ADDQ $64, DI
	DECQ AX
	JNZ column
	ADDQ $384, SI
	ADDQ $8, DX
	DECQ CX
	JNZ row
	VZEROUPPER
	RET

// Three real vectors at a(SI), b(SI), c(SI) less a quarter of their sum, to the
// same places at DI.
#define CENTRE(a, b, c) \
	VMOVUPS a(SI), Y0; \
	VMOVUPS b(SI), Y1; \
	VMOVUPS c(SI), Y2; \
	VADDPS Y1, Y0, Y3; \
	VADDPS Y2, Y3, Y3; \
	VMULPS quarter<>(SB), Y3, Y3; \
	VSUBPS Y3, Y0, Y0; \
	VSUBPS Y3, Y1, Y1; \
	VSUBPS Y3, Y2, Y2; \
	VMOVUPS Y0, a(DI); \
	VMOVUPS Y1, b(DI); \
	VMOVUPS Y2, c(DI)

// Rows of a table of 3 × 3 complex numbers, or columns.
#define ROWS \
	CENTRE(0, 64, 128); \
	CENTRE(32, 96, 160); \
	CENTRE(192, 256, 320); \
	CENTRE(224, 288, 352); \
	CENTRE(384, 448, 512); \
	CENTRE(416, 480, 544)

#define COLUMNS \
	CENTRE(0, 192, 384); \
	CENTRE(32, 224, 416); \
	CENTRE(64, 256, 448); \
	CENTRE(96, 288, 480); \
	CENTRE(128, 320, 512); \
	CENTRE(160, 352, 544)

// The product of curl m of the outer element with curl n of the block, held in
// Y9 to Y11.
#define PRODUCT(m, to) \
	VBROADCASTSS 12*m(R9), Y12; \
	VMULPS Y9, Y12, to; \
	VBROADCASTSS 12*m+4(R9), Y12; \
	VFMADD231PS Y10, Y12, to; \
	VBROADCASTSS 12*m+8(R9), Y12; \
	VFMADD231PS Y11, Y12, to

#define PRODUCTS(n, to0, to1, to2) \
	VMULPS 96*n(BX), Y13, Y9; \
	VMULPS 96*n+32(BX), Y13, Y10; \
	VMULPS 96*n+64(BX), Y13, Y11; \
	PRODUCT(0, to0); \
	PRODUCT(1, to1); \
	PRODUCT(2, to2)

// −j times a table's number times a product, added to Y9 and Y10.
#define ADD(at, product) \
	VFMADD231PS at+32(SI), product, Y9; \
	VFNMADD231PS at(SI), product, Y10

#define TAKE(at) \
	VMOVUPS at(DI), Y9; \
	VMOVUPS at+32(DI), Y10

#define GIVE(at) \
	VMOVUPS Y9, at(DI); \
	VMOVUPS Y10, at+32(DI)

// func curlAVX2(o *outer, b *block, beta float32, half *[6][6][2]lanes, tables *[4][3][3][2]lanes, out *rows)
//
// contractCurls from half, the kernel tested with 4λ on the outer side. The
// tables hold the kernel tested with, on the outer side and on the block's, 4λ
// and 4λ, 4λ and 4λ − 1, 4λ − 1 and 4λ, 4λ − 1 and 4λ − 1. Y0 to Y8 hold beta
// times the products of the curls, [outer corner][block corner].
TEXT ·curlAVX2(SB), NOSPLIT, $0-48
	MOVQ half+24(FP), SI
	MOVQ tables+32(FP), DX
	MOVQ DX, DI
	MOVQ $3, CX

plain:
	LOAD(64)
	LEAQ ·linearAt(SB), R9
	MOVQ $3, AX

linear:
	VXORPS Y12, Y12, Y12
	VXORPS Y13, Y13, Y13
	SUM
	VMOVUPS Y12, (DI)
	VMOVUPS Y13, 32(DI)
	ADDQ $24, R9
	ADDQ $64, DI
	DECQ AX
	JNZ linear
	ADDQ $384, SI
	DECQ CX
	JNZ plain

	MOVQ DX, SI
	LEAQ 576(DX), DI
	ROWS
	LEAQ 1152(DX), DI
	COLUMNS
	LEAQ 1152(DX), SI
	LEAQ 1728(DX), DI
	ROWS

	MOVQ o+0(FP), R9
	ADDQ $228, R9 // curls
	MOVQ b+8(FP), BX
	ADDQ $704, BX // curls
	VBROADCASTSS beta+16(FP), Y13
	PRODUCTS(0, Y0, Y3, Y6)
	PRODUCTS(1, Y1, Y4, Y7)
	PRODUCTS(2, Y2, Y5, Y8)

	MOVQ DX, SI
	MOVQ out+40(FP), R8

	// Row of corner 0.
	MOVQ 0(R8), DI
	TAKE(0)
	ADD(1728, Y0)
	GIVE(0)
	TAKE(64)
	ADD(1792, Y1)
	GIVE(64)
	TAKE(128)
	ADD(1856, Y2)
	GIVE(128)
	TAKE(192)
	ADD(1280, Y1)
	ADD(1216, Y2)
	GIVE(192)
	TAKE(256)
	ADD(1152, Y2)
	ADD(1280, Y0)
	GIVE(256)
	TAKE(320)
	ADD(1216, Y0)
	ADD(1152, Y1)
	GIVE(320)
	// Row of corner 1.
	MOVQ 8(R8), DI
	TAKE(0)
	ADD(1920, Y3)
	GIVE(0)
	TAKE(64)
	ADD(1984, Y4)
	GIVE(64)
	TAKE(128)
	ADD(2048, Y5)
	GIVE(128)
	TAKE(192)
	ADD(1472, Y4)
	ADD(1408, Y5)
	GIVE(192)
	TAKE(256)
	ADD(1344, Y5)
	ADD(1472, Y3)
	GIVE(256)
	TAKE(320)
	ADD(1408, Y3)
	ADD(1344, Y4)
	GIVE(320)
	// Row of corner 2.
	MOVQ 16(R8), DI
	TAKE(0)
	ADD(2112, Y6)
	GIVE(0)
	TAKE(64)
	ADD(2176, Y7)
	GIVE(64)
	TAKE(128)
	ADD(2240, Y8)
	GIVE(128)
	TAKE(192)
	ADD(1664, Y7)
	ADD(1600, Y8)
	GIVE(192)
	TAKE(256)
	ADD(1536, Y8)
	ADD(1664, Y6)
	GIVE(256)
	TAKE(320)
	ADD(1600, Y6)
	ADD(1536, Y7)
	GIVE(320)
	// Row of midpoint 0.
	MOVQ 24(R8), DI
	TAKE(0)
	ADD(960, Y3)
	ADD(768, Y6)
	GIVE(0)
	TAKE(64)
	ADD(1024, Y4)
	ADD(832, Y7)
	GIVE(64)
	TAKE(128)
	ADD(1088, Y5)
	ADD(896, Y8)
	GIVE(128)
	TAKE(192)
	ADD(512, Y4)
	ADD(448, Y5)
	ADD(320, Y7)
	ADD(256, Y8)
	GIVE(192)
	TAKE(256)
	ADD(384, Y5)
	ADD(512, Y3)
	ADD(192, Y8)
	ADD(320, Y6)
	GIVE(256)
	TAKE(320)
	ADD(448, Y3)
	ADD(384, Y4)
	ADD(256, Y6)
	ADD(192, Y7)
	GIVE(320)
	// Row of midpoint 1.
	MOVQ 32(R8), DI
	TAKE(0)
	ADD(576, Y6)
	ADD(960, Y0)
	GIVE(0)
	TAKE(64)
	ADD(640, Y7)
	ADD(1024, Y1)
	GIVE(64)
	TAKE(128)
	ADD(704, Y8)
	ADD(1088, Y2)
	GIVE(128)
	TAKE(192)
	ADD(128, Y7)
	ADD(64, Y8)
	ADD(512, Y1)
	ADD(448, Y2)
	GIVE(192)
	TAKE(256)
	ADD(0, Y8)
	ADD(128, Y6)
	ADD(384, Y2)
	ADD(512, Y0)
	GIVE(256)
	TAKE(320)
	ADD(64, Y6)
	ADD(0, Y7)
	ADD(448, Y0)
	ADD(384, Y1)
	GIVE(320)
	// Row of midpoint 2.
	MOVQ 40(R8), DI
	TAKE(0)
	ADD(768, Y0)
	ADD(576, Y3)
	GIVE(0)
	TAKE(64)
	ADD(832, Y1)
	ADD(640, Y4)
	GIVE(64)
	TAKE(128)
	ADD(896, Y2)
	ADD(704, Y5)
	GIVE(128)
	TAKE(192)
	ADD(320, Y1)
	ADD(256, Y2)
	ADD(128, Y4)
	ADD(64, Y5)
	GIVE(192)
	TAKE(256)
	ADD(192, Y2)
	ADD(320, Y0)
	ADD(0, Y5)
	ADD(128, Y3)
	GIVE(256)
	TAKE(320)
	ADD(256, Y0)
	ADD(192, Y1)
	ADD(64, Y3)
	ADD(0, Y4)
	GIVE(320)
	VZEROUPPER
	RET
