#include "textflag.h"

// Each kernel goes through its frequencies four at a time; what is left over, one to
// three, goes through the same instructions under a mask. Constants stand at DX in the
// order of vectorConstants, four lanes each.
#define MAGIC 0(DX)
#define COSINE(i) (32+32*i)(DX)
#define SINE(i) (224+32*i)(DX)
#define DISC(i) (384+32*i)(DX)
#define SIZE(i) (704+32*i)(DX)
#define PHASE(i) (832+32*i)(DX)
#define EIGHTH 960(DX)
#define DECAY(i) (992+32*i)(DX)

// Masks of one, two and three lanes.
DATA masks<>+0(SB)/8, $-1
DATA masks<>+8(SB)/8, $0
DATA masks<>+16(SB)/8, $0
DATA masks<>+24(SB)/8, $0
DATA masks<>+32(SB)/8, $-1
DATA masks<>+40(SB)/8, $-1
DATA masks<>+48(SB)/8, $0
DATA masks<>+56(SB)/8, $0
DATA masks<>+64(SB)/8, $-1
DATA masks<>+72(SB)/8, $-1
DATA masks<>+80(SB)/8, $-1
DATA masks<>+88(SB)/8, $0
GLOBL masks<>(SB), RODATA|NOPTR, $96

// The mask of the CX lanes that are left over, into Y15.
#define MASK \
	DECQ CX; \
	SHLQ $5, CX; \
	LEAQ masks<>(SB), AX; \
	VMOVUPD (AX)(CX*1), Y15

// n = roundMagic + whole number next to f*rate, q = what is left.
#define TURN(f, rate, n, q) \
	VMOVUPD MAGIC, n; \
	VFMADD231PD rate, f, n; \
	VSUBPD MAGIC, n, q; \
	VFMSUB231PD rate, f, q

#define COS(q2, c) \
	VMOVUPD COSINE(0), c; \
	VFMADD213PD COSINE(1), q2, c; \
	VFMADD213PD COSINE(2), q2, c; \
	VFMADD213PD COSINE(3), q2, c; \
	VFMADD213PD COSINE(4), q2, c; \
	VFMADD213PD COSINE(5), q2, c

#define SIN(q2, s) \
	VMOVUPD SINE(0), s; \
	VFMADD213PD SINE(1), q2, s; \
	VFMADD213PD SINE(2), q2, s; \
	VFMADD213PD SINE(3), q2, s; \
	VFMADD213PD SINE(4), q2, s

// Cosine Y4 and sine Y5 of f*Y14 half turns, f in Y0; the sign is in the top bit of Y1.
#define UNIT \
	TURN(Y0, Y14, Y1, Y2); \
	VPSLLQ $63, Y1, Y1; \
	VMULPD Y2, Y2, Y3; \
	COS(Y3, Y4); \
	SIN(Y3, Y5); \
	VMULPD Y5, Y2, Y5

// sin(f*Y13 half turns) times Y6, into Y6.
#define SINE_TIMES \
	TURN(Y0, Y13, Y7, Y8); \
	VPSLLQ $63, Y7, Y7; \
	VMULPD Y6, Y8, Y6; \
	VMULPD Y8, Y8, Y9; \
	SIN(Y9, Y10); \
	VMULPD Y10, Y6, Y6; \
	VXORPD Y7, Y6, Y6

// The Hermite piece between two nodes at DX and BX, whose slopes are at R8 and R9, the
// imaginary parts AX behind; weights Y12 to Y15, reach at R10. Real part into Y0,
// imaginary part into Y1. LOADED takes operands from memory as they are; MASKED under
// the mask in Y11.
#define BLEND_LOADED \
	VMULPD (DX), Y12, Y0; \
	VFMADD231PD (BX), Y13, Y0; \
	VMULPD (DX)(AX*1), Y12, Y1; \
	VFMADD231PD (BX)(AX*1), Y13, Y1; \
	VMULPD (R8), Y14, Y2; \
	VFMADD231PD (R9), Y15, Y2; \
	VMULPD (R8)(AX*1), Y14, Y3; \
	VFMADD231PD (R9)(AX*1), Y15, Y3; \
	VMOVUPD (R10), Y4; \
	VFNMADD231PD Y3, Y4, Y0; \
	VFMADD231PD Y2, Y4, Y1

#define BLEND_MASKED \
	VMASKMOVPD (DX), Y11, Y5; \
	VMASKMOVPD (BX), Y11, Y6; \
	VMULPD Y5, Y12, Y0; \
	VFMADD231PD Y6, Y13, Y0; \
	VMASKMOVPD (DX)(AX*1), Y11, Y5; \
	VMASKMOVPD (BX)(AX*1), Y11, Y6; \
	VMULPD Y5, Y12, Y1; \
	VFMADD231PD Y6, Y13, Y1; \
	VMASKMOVPD (R8), Y11, Y5; \
	VMASKMOVPD (R9), Y11, Y6; \
	VMULPD Y5, Y14, Y2; \
	VFMADD231PD Y6, Y15, Y2; \
	VMASKMOVPD (R8)(AX*1), Y11, Y5; \
	VMASKMOVPD (R9)(AX*1), Y11, Y6; \
	VMULPD Y5, Y14, Y3; \
	VFMADD231PD Y6, Y15, Y3; \
	VMASKMOVPD (R10), Y11, Y4; \
	VFNMADD231PD Y3, Y4, Y0; \
	VFMADD231PD Y2, Y4, Y1

#define BLEND_ARGUMENTS \
	MOVQ n+0(FP), CX; \
	MOVQ a+24(FP), DX; \
	MOVQ b+32(FP), BX; \
	MOVQ c+40(FP), R8; \
	MOVQ d+48(FP), R9; \
	MOVQ imaginary+56(FP), AX; \
	MOVQ reach+64(FP), R10; \
	MOVQ w+72(FP), R11; \
	VBROADCASTSD (R11), Y12; \
	VBROADCASTSD 8(R11), Y13; \
	VBROADCASTSD 16(R11), Y14; \
	VBROADCASTSD 24(R11), Y15

#define BLEND_NEXT \
	ADDQ $32, DX; \
	ADDQ $32, BX; \
	ADDQ $32, R8; \
	ADDQ $32, R9; \
	ADDQ $32, R10; \
	ADDQ $32, DI; \
	ADDQ $32, SI

#define BLEND_MASK \
	DECQ CX; \
	SHLQ $5, CX; \
	LEAQ masks<>(SB), R11; \
	VMOVUPD (R11)(CX*1), Y11

// The product of Y5 + jY6 and Y0 + jY1, into Y7 and Y8.
#define COMPLEX_PRODUCT \
	VMULPD Y6, Y1, Y7; \
	VFMSUB231PD Y0, Y5, Y7; \
	VMULPD Y6, Y0, Y8; \
	VFMADD231PD Y1, Y5, Y8

// func lineAVX2(n int, re, im, hz, perHz *float64, path, rate, over float64, k *vectorConstants)
TEXT ·lineAVX2(SB), NOSPLIT, $0-72
	MOVQ n+0(FP), CX
	MOVQ re+8(FP), DI
	MOVQ im+16(FP), SI
	MOVQ hz+24(FP), R8
	MOVQ perHz+32(FP), R9
	VBROADCASTSD path+40(FP), Y14
	VBROADCASTSD rate+48(FP), Y13
	VBROADCASTSD over+56(FP), Y12
	MOVQ k+64(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	VMULPD (R9), Y12, Y6
	UNIT
	SINE_TIMES
	VXORPD Y1, Y6, Y6
	VMOVUPD (DI), Y2
	VMOVUPD (SI), Y3
	VFMADD231PD Y4, Y6, Y2
	VFNMADD231PD Y5, Y6, Y3
	VMOVUPD Y2, (DI)
	VMOVUPD Y3, (SI)
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	VMASKMOVPD (R9), Y15, Y6
	VMULPD Y6, Y12, Y6
	UNIT
	SINE_TIMES
	VXORPD Y1, Y6, Y6
	VMASKMOVPD (DI), Y15, Y2
	VMASKMOVPD (SI), Y15, Y3
	VFMADD231PD Y4, Y6, Y2
	VFNMADD231PD Y5, Y6, Y3
	VMASKMOVPD Y2, Y15, (DI)
	VMASKMOVPD Y3, Y15, (SI)

done:
	VZEROUPPER
	RET

// func realAVX2(n int, re, im, hz, a *float64, path float64, k *vectorConstants)
TEXT ·realAVX2(SB), NOSPLIT, $0-56
	MOVQ n+0(FP), CX
	MOVQ re+8(FP), DI
	MOVQ im+16(FP), SI
	MOVQ hz+24(FP), R8
	MOVQ a+32(FP), R9
	VBROADCASTSD path+40(FP), Y14
	MOVQ k+48(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	UNIT
	VXORPD (R9), Y1, Y6
	VMOVUPD (DI), Y2
	VMOVUPD (SI), Y3
	VFMADD231PD Y4, Y6, Y2
	VFNMADD231PD Y5, Y6, Y3
	VMOVUPD Y2, (DI)
	VMOVUPD Y3, (SI)
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	UNIT
	VMASKMOVPD (R9), Y15, Y6
	VXORPD Y1, Y6, Y6
	VMASKMOVPD (DI), Y15, Y2
	VMASKMOVPD (SI), Y15, Y3
	VFMADD231PD Y4, Y6, Y2
	VFNMADD231PD Y5, Y6, Y3
	VMASKMOVPD Y2, Y15, (DI)
	VMASKMOVPD Y3, Y15, (SI)

done:
	VZEROUPPER
	RET

// func complexAVX2(n int, re, im, hz, pr, pi *float64, path float64, k *vectorConstants)
TEXT ·complexAVX2(SB), NOSPLIT, $0-64
	MOVQ n+0(FP), CX
	MOVQ re+8(FP), DI
	MOVQ im+16(FP), SI
	MOVQ hz+24(FP), R8
	MOVQ pr+32(FP), R9
	MOVQ pi+40(FP), R10
	VBROADCASTSD path+48(FP), Y14
	MOVQ k+56(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	UNIT
	VXORPD (R9), Y1, Y6
	VXORPD (R10), Y1, Y7
	VMOVUPD (DI), Y2
	VMOVUPD (SI), Y3
	VFMADD231PD Y4, Y6, Y2
	VFMADD231PD Y5, Y7, Y2
	VFMADD231PD Y4, Y7, Y3
	VFNMADD231PD Y5, Y6, Y3
	VMOVUPD Y2, (DI)
	VMOVUPD Y3, (SI)
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, R10
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	UNIT
	VMASKMOVPD (R9), Y15, Y6
	VMASKMOVPD (R10), Y15, Y7
	VXORPD Y1, Y6, Y6
	VXORPD Y1, Y7, Y7
	VMASKMOVPD (DI), Y15, Y2
	VMASKMOVPD (SI), Y15, Y3
	VFMADD231PD Y4, Y6, Y2
	VFMADD231PD Y5, Y7, Y2
	VFMADD231PD Y4, Y7, Y3
	VFNMADD231PD Y5, Y6, Y3
	VMASKMOVPD Y2, Y15, (DI)
	VMASKMOVPD Y3, Y15, (SI)

done:
	VZEROUPPER
	RET

// func timesSincAVX2(n int, p, hz, perHz *float64, rate, over float64, k *vectorConstants)
TEXT ·timesSincAVX2(SB), NOSPLIT, $0-56
	MOVQ n+0(FP), CX
	MOVQ p+8(FP), DI
	MOVQ hz+16(FP), R8
	MOVQ perHz+24(FP), R9
	VBROADCASTSD rate+32(FP), Y13
	VBROADCASTSD over+40(FP), Y12
	MOVQ k+48(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	VMULPD (R9), Y12, Y6
	SINE_TIMES
	VMULPD (DI), Y6, Y6
	VMOVUPD Y6, (DI)
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, DI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	VMASKMOVPD (R9), Y15, Y6
	VMULPD Y6, Y12, Y6
	SINE_TIMES
	VMASKMOVPD (DI), Y15, Y2
	VMULPD Y2, Y6, Y6
	VMASKMOVPD Y6, Y15, (DI)

done:
	VZEROUPPER
	RET

// The polynomial of the piston's pattern for f in Y0, x = f*Y14, times Y13, into Y4.
#define SMALL_DISC \
	VMULPD Y14, Y0, Y1; \
	VMULPD Y1, Y1, Y1; \
	VMOVUPD DISC(0), Y4; \
	VFMADD213PD DISC(1), Y1, Y4; \
	VFMADD213PD DISC(2), Y1, Y4; \
	VFMADD213PD DISC(3), Y1, Y4; \
	VFMADD213PD DISC(4), Y1, Y4; \
	VFMADD213PD DISC(5), Y1, Y4; \
	VFMADD213PD DISC(6), Y1, Y4; \
	VFMADD213PD DISC(7), Y1, Y4; \
	VFMADD213PD DISC(8), Y1, Y4; \
	VFMADD213PD DISC(9), Y1, Y4; \
	VMULPD Y13, Y4, Y4

// func smallDiscAVX2(n int, p, hz *float64, scale, amp float64, k *vectorConstants)
TEXT ·smallDiscAVX2(SB), NOSPLIT, $0-48
	MOVQ n+0(FP), CX
	MOVQ p+8(FP), DI
	MOVQ hz+16(FP), R8
	VBROADCASTSD scale+24(FP), Y14
	VBROADCASTSD amp+32(FP), Y13
	MOVQ k+40(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	SMALL_DISC
	VMOVUPD Y4, (DI)
	ADDQ $32, R8
	ADDQ $32, DI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	SMALL_DISC
	VMASKMOVPD Y4, Y15, (DI)

done:
	VZEROUPPER
	RET

// The pattern of a piston at large x: f in Y0, u in Y6, amplitude in Y7; into Y7.
#define LARGE_DISC \
	VMULPD Y6, Y6, Y8; \
	VMOVUPD PHASE(0), Y4; \
	VFMADD213PD PHASE(1), Y8, Y4; \
	VFMADD213PD PHASE(2), Y8, Y4; \
	VFMADD213PD PHASE(3), Y8, Y4; \
	VMULPD Y6, Y4, Y4; \
	VSUBPD EIGHTH, Y4, Y4; \
	VFMADD231PD Y14, Y0, Y4; \
	VADDPD MAGIC, Y4, Y1; \
	VSUBPD MAGIC, Y1, Y2; \
	VSUBPD Y2, Y4, Y2; \
	VPSLLQ $63, Y1, Y1; \
	VMULPD Y2, Y2, Y3; \
	COS(Y3, Y4); \
	VMOVUPD SIZE(0), Y5; \
	VFMADD213PD SIZE(1), Y8, Y5; \
	VFMADD213PD SIZE(2), Y8, Y5; \
	VFMADD213PD SIZE(3), Y8, Y5; \
	VMULPD Y5, Y7, Y7; \
	VMULPD Y4, Y7, Y7; \
	VXORPD Y1, Y7, Y7

// func largeDiscAVX2(n int, p, hz, perHz, perHz32 *float64, rate, over, amp float64, k *vectorConstants)
TEXT ·largeDiscAVX2(SB), NOSPLIT, $0-72
	MOVQ n+0(FP), CX
	MOVQ p+8(FP), DI
	MOVQ hz+16(FP), R8
	MOVQ perHz+24(FP), R9
	MOVQ perHz32+32(FP), R10
	VBROADCASTSD rate+40(FP), Y14
	VBROADCASTSD over+48(FP), Y13
	VBROADCASTSD amp+56(FP), Y12
	MOVQ k+64(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	VMULPD (R9), Y13, Y6
	VMULPD (R10), Y12, Y7
	LARGE_DISC
	VMOVUPD Y7, (DI)
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, R10
	ADDQ $32, DI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	VMASKMOVPD (R9), Y15, Y6
	VMASKMOVPD (R10), Y15, Y7
	VMULPD Y6, Y13, Y6
	VMULPD Y7, Y12, Y7
	LARGE_DISC
	VMASKMOVPD Y7, Y15, (DI)

done:
	VZEROUPPER
	RET

// e^{-alpha x} for alpha in Y0, -x in Y14, into Y4.
#define ATTENUATE \
	VMULPD Y14, Y0, Y1; \
	VMOVUPD DECAY(0), Y4; \
	VFMADD213PD DECAY(1), Y1, Y4; \
	VFMADD213PD DECAY(2), Y1, Y4; \
	VFMADD213PD DECAY(3), Y1, Y4; \
	VFMADD213PD DECAY(4), Y1, Y4

// func attenuateAVX2(n int, p, alpha *float64, minusX float64, k *vectorConstants)
TEXT ·attenuateAVX2(SB), NOSPLIT, $0-40
	MOVQ n+0(FP), CX
	MOVQ p+8(FP), DI
	MOVQ alpha+16(FP), R8
	VBROADCASTSD minusX+24(FP), Y14
	MOVQ k+32(FP), DX
	SUBQ $4, CX
	JL last

loop:
	VMOVUPD (R8), Y0
	ATTENUATE
	VMULPD (DI), Y4, Y4
	VMOVUPD Y4, (DI)
	ADDQ $32, R8
	ADDQ $32, DI
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	MASK
	VMASKMOVPD (R8), Y15, Y0
	ATTENUATE
	VMASKMOVPD (DI), Y15, Y2
	VMULPD Y2, Y4, Y4
	VMASKMOVPD Y4, Y15, (DI)

done:
	VZEROUPPER
	RET

// func setBlendAVX2(n int, re, im, a, b, c, d *float64, imaginary int, reach *float64, w *hermite4)
TEXT ·setBlendAVX2(SB), NOSPLIT, $0-80
	MOVQ re+8(FP), DI
	MOVQ im+16(FP), SI
	BLEND_ARGUMENTS
	SUBQ $4, CX
	JL last

loop:
	BLEND_LOADED
	VMOVUPD Y0, (DI)
	VMOVUPD Y1, (SI)
	BLEND_NEXT
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	BLEND_MASK
	BLEND_MASKED
	VMASKMOVPD Y0, Y11, (DI)
	VMASKMOVPD Y1, Y11, (SI)

done:
	VZEROUPPER
	RET

// func timesBlendAVX2(n int, pr, pi, a, b, c, d *float64, imaginary int, reach *float64, w *hermite4)
TEXT ·timesBlendAVX2(SB), NOSPLIT, $0-80
	MOVQ pr+8(FP), DI
	MOVQ pi+16(FP), SI
	BLEND_ARGUMENTS
	SUBQ $4, CX
	JL last

loop:
	BLEND_LOADED
	VMOVUPD (DI), Y5
	VMOVUPD (SI), Y6
	COMPLEX_PRODUCT
	VMOVUPD Y7, (DI)
	VMOVUPD Y8, (SI)
	BLEND_NEXT
	SUBQ $4, CX
	JGE loop

last:
	ADDQ $4, CX
	JZ done
	BLEND_MASK
	BLEND_MASKED
	VMASKMOVPD (DI), Y11, Y5
	VMASKMOVPD (SI), Y11, Y6
	COMPLEX_PRODUCT
	VMASKMOVPD Y7, Y11, (DI)
	VMASKMOVPD Y8, Y11, (SI)

done:
	VZEROUPPER
	RET
