// Thirty-two results at a time; each is the same sum in the same order as in Go,
// products and sums rounded one by one, so the bits are the same.

#include "textflag.h"

// func slideEights(dst, x, w *float32, n, taps int) float32
TEXT ·slideEights(SB), NOSPLIT, $0-44
	MOVQ dst+0(FP), DI
	MOVQ x+8(FP), SI
	MOVQ w+16(FP), DX
	MOVQ n+24(FP), CX
	MOVQ taps+32(FP), R8
	VXORPS Y15, Y15, Y15     // the largest magnitude
	VPCMPEQD X14, X14, X14
	VPSRLD $1, X14, X14      // all but the sign
	VINSERTF128 $1, X14, Y14, Y14

group:
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	MOVQ SI, R9
	XORQ AX, AX

tap:
	VBROADCASTSS (DX)(AX*4), Y4
	VMULPS (R9), Y4, Y5
	VMULPS 32(R9), Y4, Y6
	VMULPS 64(R9), Y4, Y7
	VMULPS 96(R9), Y4, Y8
	VADDPS Y5, Y0, Y0
	VADDPS Y6, Y1, Y1
	VADDPS Y7, Y2, Y2
	VADDPS Y8, Y3, Y3
	ADDQ $4, R9
	INCQ AX
	CMPQ AX, R8
	JLT  tap

	VMOVUPS Y0, (DI)
	VMOVUPS Y1, 32(DI)
	VMOVUPS Y2, 64(DI)
	VMOVUPS Y3, 96(DI)
	VANDPS Y14, Y0, Y0
	VANDPS Y14, Y1, Y1
	VANDPS Y14, Y2, Y2
	VANDPS Y14, Y3, Y3
	VMAXPS Y0, Y1, Y0
	VMAXPS Y2, Y3, Y2
	VMAXPS Y0, Y15, Y15
	VMAXPS Y2, Y15, Y15
	ADDQ $128, SI
	ADDQ $128, DI
	SUBQ $32, CX
	JGT  group

	VEXTRACTF128 $1, Y15, X0
	VMAXPS X0, X15, X0
	VPERMILPS $0x4e, X0, X1
	VMAXPS X1, X0, X0
	VPERMILPS $0xb1, X0, X1
	VMAXPS X1, X0, X0
	VZEROUPPER
	MOVSS X0, ret+40(FP)
	RET

