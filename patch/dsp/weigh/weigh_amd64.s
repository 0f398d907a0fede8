// Products and sums are rounded one by one, as the Go code does (no fused
// multiply-add), in the same eight sums, so the bits are the same.

#include "textflag.h"

// TOTAL adds the eight sums in Y0 (0 to 3) and Y1 (4 to 7) into X0.
#define TOTAL \
	VADDPD Y1, Y0, Y0        \
	VEXTRACTF128 $1, Y0, X1  \
	VHADDPD X1, X0, X0       \
	VPERMILPD $1, X0, X1     \
	VADDSD X1, X0, X0        \
	VZEROUPPER

// func sumFours(x, w *float64, n int) float64
TEXT ·sumFours(SB), NOSPLIT, $0-32
	MOVQ x+0(FP), SI
	MOVQ w+8(FP), DX
	MOVQ n+16(FP), CX
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1

eight:
	CMPQ CX, $8
	JLT  rest
	VMOVUPD (SI), Y2
	VMOVUPD 32(SI), Y3
	VMULPD (DX), Y2, Y2
	VMULPD 32(DX), Y3, Y3
	VADDPD Y2, Y0, Y0
	VADDPD Y3, Y1, Y1
	ADDQ $64, SI
	ADDQ $64, DX
	SUBQ $8, CX
	JMP  eight

rest:
	CMPQ CX, $4
	JLT  done
	VMOVUPD (SI), Y2
	VMULPD (DX), Y2, Y2
	VADDPD Y2, Y0, Y0

done:
	TOTAL
	MOVSD X0, ret+24(FP)
	RET

// func betweenFours(x, a, b *float64, n int, f float64) float64
TEXT ·betweenFours(SB), NOSPLIT, $0-48
	MOVQ x+0(FP), SI
	MOVQ a+8(FP), DX
	MOVQ b+16(FP), DI
	MOVQ n+24(FP), CX
	VBROADCASTSD f+32(FP), Y4
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1

eight:
	CMPQ CX, $8
	JLT  rest
	VMOVUPD (DX), Y2
	VMOVUPD 32(DX), Y3
	VMOVUPD (DI), Y5
	VMOVUPD 32(DI), Y6
	VSUBPD Y2, Y5, Y5
	VSUBPD Y3, Y6, Y6
	VMULPD Y4, Y5, Y5
	VMULPD Y4, Y6, Y6
	VADDPD Y5, Y2, Y2
	VADDPD Y6, Y3, Y3
	VMULPD (SI), Y2, Y2
	VMULPD 32(SI), Y3, Y3
	VADDPD Y2, Y0, Y0
	VADDPD Y3, Y1, Y1
	ADDQ $64, SI
	ADDQ $64, DX
	ADDQ $64, DI
	SUBQ $8, CX
	JMP  eight

rest:
	CMPQ CX, $4
	JLT  done
	VMOVUPD (DX), Y2
	VMOVUPD (DI), Y5
	VSUBPD Y2, Y5, Y5
	VMULPD Y4, Y5, Y5
	VADDPD Y5, Y2, Y2
	VMULPD (SI), Y2, Y2
	VADDPD Y2, Y0, Y0

done:
	TOTAL
	MOVSD X0, ret+40(FP)
	RET

