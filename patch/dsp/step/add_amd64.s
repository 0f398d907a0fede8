// Code that adds corners, four samples at a time. Products and sums are rounded
// one by one, as the Go code does (no fused multiply-add), so the bits are the same.

#include "textflag.h"

#define FOUR(at) \
	VMULPD at(AX), Y0, Y2  \
	VMULPD at(R13), Y1, Y3 \
	VADDPD Y3, Y2, Y2      \
	VADDPD at(BX), Y2, Y2  \
	VMOVUPD Y2, at(BX)

DATA thousand<>+0(SB)/8, $1024.0
GLOBL thousand<>(SB), RODATA|NOPTR, $8

// func addFours(dst, cells *float64, corners *Corner, n, stride, order, first int)
//
// The samples added to lie at multiples of four in dst, whatever the corner: read
// again for the next corner, they come straight from what was just written, which
// they would not if they lay across two of them. Instead of the samples the row is
// read from up to three numbers before; there are zeros around it.
TEXT ·addFours(SB), NOSPLIT, $0-56
	MOVQ dst+0(FP), DI
	MOVQ cells+8(FP), SI
	MOVQ corners+16(FP), DX
	MOVQ n+24(FP), CX
	MOVQ stride+32(FP), R8
	MOVQ order+40(FP), R9
	MOVQ first+48(FP), R10
	MOVQ $1023, R14
	XORL R15, R15
corner:
	VMOVSD 16(DX), X0          // late
	VMULSD thousand<>(SB), X0, X0
	VCVTTSD2SIQ X0, AX         // row
	CMPQ AX, R14
	CMOVQGT R14, AX
	CMPQ AX, R15
	CMOVQLT R15, AX
	VXORPD X3, X3, X3
	VCVTSI2SDQ AX, X3, X3
	VSUBSD X3, X0, X0
	VMOVSD 24(DX), X2          // height
	VMULSD X0, X2, X1          // b
	VSUBSD X1, X2, X0          // a
	VBROADCASTSD X0, Y0
	VBROADCASTSD X1, Y1
	MOVQ 0(DX), BX             // sample
	ADDQ R10, BX
	MOVQ BX, R11
	ANDQ $3, R11               // past a multiple of four
	SUBQ R11, BX
	LEAQ (DI)(BX*8), BX
	IMULQ R8, AX
	MOVQ 8(DX), R12            // order
	IMULQ R9, R12
	ADDQ R12, AX
	SUBQ R11, AX
	LEAQ (SI)(AX*8), AX
	LEAQ (AX)(R8*8), R13
	FOUR(0)
	FOUR(32)
	FOUR(64)
	FOUR(96)
	FOUR(128)
	FOUR(160)
	FOUR(192)
	FOUR(224)
	CMPQ R8, $32
	JEQ next
	FOUR(256)                  // the long low-pass
	FOUR(288)
	FOUR(320)
next:
	ADDQ $32, DX
	DECQ CX
	JNZ corner
	VZEROUPPER
	RET

// func addTwo4(dst, r0, r1 *float64, n int, a, b float64)
TEXT ·addTwo4(SB), NOSPLIT, $0-48
	MOVQ dst+0(FP), DI
	MOVQ r0+8(FP), SI
	MOVQ r1+16(FP), DX
	MOVQ n+24(FP), CX
	VBROADCASTSD a+32(FP), Y0
	VBROADCASTSD b+40(FP), Y1
again:
	VMULPD (SI), Y0, Y2
	VMULPD (DX), Y1, Y3
	VADDPD Y3, Y2, Y2
	VADDPD (DI), Y2, Y2
	VMOVUPD Y2, (DI)
	ADDQ $32, SI
	ADDQ $32, DX
	ADDQ $32, DI
	SUBQ $4, CX
	JNZ again
	VZEROUPPER
	RET
