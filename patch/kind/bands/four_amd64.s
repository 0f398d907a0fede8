// Four bands at once. Products and sums are rounded one by one, as the Go code does
// (no fused multiply-add), so the bits are the same.

#include "textflag.h"

// SECTION sends x in Y0 through a section; z1 and z2 are its states, Y8 is used up,
// Y15 is the bit of the sign.
#define SECTION(at, z1, z2) \
	VMULPD at(AX), Y0, Y7    \
	VADDPD z1, Y7, Y0        \
	VMULPD at+32(AX), Y0, Y8 \
	VSUBPD Y8, z2, z1        \
	VMULPD at+64(AX), Y0, Y8 \
	VXORPD Y15, Y7, z2       \
	VSUBPD Y8, z2, z2

// func runFours(coeffs *[9][4]float64, states *[6][4]float64, sums *row, in *float64, n int, gains *float64, even, odd int)
TEXT ·runFours(SB), NOSPLIT, $0-64
	MOVQ coeffs+0(FP), AX
	MOVQ states+8(FP), BX
	MOVQ sums+16(FP), DI
	MOVQ in+24(FP), SI
	MOVQ n+32(FP), CX
	MOVQ gains+40(FP), DX
	MOVQ even+48(FP), R8
	MOVQ odd+56(FP), R9
	VPCMPEQD Y15, Y15, Y15
	VPSLLQ $63, Y15, Y15
	VMOVUPD (BX), Y1
	VMOVUPD 32(BX), Y2
	VMOVUPD 64(BX), Y3
	VMOVUPD 96(BX), Y4
	VMOVUPD 128(BX), Y5
	VMOVUPD 160(BX), Y6
again:
	VBROADCASTSD (SI), Y0
	SECTION(0, Y1, Y2)
	SECTION(96, Y3, Y4)
	SECTION(192, Y5, Y6)
	VMULPD (DX), Y0, Y0
	VADDPD (DI), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $8, SI
	ADDQ $32, DI
	ADDQ R8, DX
	XCHGQ R8, R9
	SUBQ $1, CX
	JNZ again
	VMOVUPD Y1, (BX)
	VMOVUPD Y2, 32(BX)
	VMOVUPD Y3, 64(BX)
	VMOVUPD Y4, 96(BX)
	VMOVUPD Y5, 128(BX)
	VMOVUPD Y6, 160(BX)
	VZEROUPPER
	RET
