// What package lanes does, four samples at a time. Products and sums are rounded
// one by one, as the Go code does (no fused multiply-add), so the bits are the same.

#include "textflag.h"

#define ONE 0
#define HALF 32
#define TWO 64
#define BIG 96
#define UP 128
#define DOWN 160
#define LEAST 192
#define MOST 224
#define THREE 256

// NEXT goes on to the next four samples at DI, or ends.
#define NEXT(again) \
	ADDQ $32, DI \
	SUBQ $4, CX  \
	JNZ  again   \
	VZEROUPPER   \
	RET

// func fill4(dst *float64, n int, x float64)
TEXT ·fill4(SB), NOSPLIT, $0-24
	MOVQ dst+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSD x+16(FP), Y0
again:
	VMOVUPD Y0, (DI)
	NEXT(again)

// func same4(x *float64, n int) bool
TEXT ·same4(SB), NOSPLIT, $0-17
	MOVQ x+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSD (DI), Y0
again:
	VCMPPD $4, (DI), Y0, Y1 // not equal, or no number
	VPTEST Y1, Y1
	JNZ differ
	ADDQ $32, DI
	SUBQ $4, CX
	JNZ again
	VZEROUPPER
	MOVB $1, ret+16(FP)
	RET
differ:
	VZEROUPPER
	MOVB $0, ret+16(FP)
	RET

// func within4(x *float64, n int, most float64) bool
TEXT ·within4(SB), NOSPLIT, $0-25
	MOVQ x+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSD most+16(FP), Y0
	VPCMPEQD Y2, Y2, Y2
	VPSRLQ $1, Y2, Y2 // all but the sign
	VXORPD Y3, Y3, Y3
again:
	VANDPD (DI), Y2, Y1
	VCMPPD $6, Y0, Y1, Y1 // not at most, or no number
	VORPD Y1, Y3, Y3
	ADDQ $32, DI
	SUBQ $4, CX
	JNZ again
	VPTEST Y3, Y3
	VZEROUPPER
	SETEQ ret+24(FP)
	RET

// func add4(dst, a, b *float64, n int)
TEXT ·add4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ a+8(FP), SI
	MOVQ b+16(FP), DX
	MOVQ n+24(FP), CX
again:
	VMOVUPD (SI), Y0
	VADDPD (DX), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	ADDQ $32, DX
	NEXT(again)

// func multiply4(dst, a, b *float64, n int)
TEXT ·multiply4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ a+8(FP), SI
	MOVQ b+16(FP), DX
	MOVQ n+24(FP), CX
again:
	VMOVUPD (SI), Y0
	VMULPD (DX), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	ADDQ $32, DX
	NEXT(again)

// func addProduct4(dst, a, b *float64, n int)
TEXT ·addProduct4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ a+8(FP), SI
	MOVQ b+16(FP), DX
	MOVQ n+24(FP), CX
again:
	VMOVUPD (SI), Y0
	VMULPD (DX), Y0, Y0
	VADDPD (DI), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	ADDQ $32, DX
	NEXT(again)

// func scale4(dst, src *float64, n int, factor float64)
TEXT ·scale4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ n+16(FP), CX
	VBROADCASTSD factor+24(FP), Y1
again:
	VMULPD (SI), Y1, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	NEXT(again)

// func addScaled4(dst, src *float64, n int, factor float64)
TEXT ·addScaled4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ n+16(FP), CX
	VBROADCASTSD factor+24(FP), Y1
again:
	VMULPD (SI), Y1, Y0
	VADDPD (DI), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	NEXT(again)

// func swing4(dst, src *float64, n int, rest, depth float64)
TEXT ·swing4(SB), NOSPLIT, $0-40
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ n+16(FP), CX
	VBROADCASTSD rest+24(FP), Y1
	VBROADCASTSD depth+32(FP), Y2
again:
	VMULPD (SI), Y2, Y0
	VADDPD Y0, Y1, Y0
	VMULPD (DI), Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	NEXT(again)

// func clamp4(v *float64, n int, lo, hi float64, at *[8]float64) (outside uint64)
TEXT ·clamp4(SB), NOSPLIT, $0-48
	MOVQ v+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSD lo+16(FP), Y0
	VBROADCASTSD hi+24(FP), Y1
	MOVQ at+32(FP), SI
	VMOVAPD Y1, Y2 // least
	VMOVAPD Y0, Y3 // most
	VXORPD Y4, Y4, Y4 // under
	VXORPD Y5, Y5, Y5 // over
again:
	VMOVUPD (DI), Y6
	VCMPPD $9, Y0, Y6, Y7 // not at least lo, or no number
	VORPD Y7, Y4, Y4
	VCMPPD $14, Y1, Y6, Y7 // more than hi
	VORPD Y7, Y5, Y5
	VMAXPD Y0, Y6, Y6 // lo if no number
	VMINPD Y1, Y6, Y6
	VMOVUPD Y6, (DI)
	VMINPD Y6, Y2, Y2
	VMAXPD Y6, Y3, Y3
	ADDQ $32, DI
	SUBQ $4, CX
	JNZ again
	VMOVUPD Y2, (SI)
	VMOVUPD Y3, 32(SI)
	XORQ AX, AX
	VPTEST Y4, Y4
	JZ notUnder
	ORQ $1, AX
notUnder:
	VPTEST Y5, Y5
	JZ notOver
	ORQ $2, AX
notOver:
	VZEROUPPER
	MOVQ AX, outside+40(FP)
	RET

// func above4(dst, src *float64, n int, floor float64)
TEXT ·above4(SB), NOSPLIT, $0-32
	MOVQ dst+0(FP), DI
	MOVQ src+8(FP), SI
	MOVQ n+16(FP), CX
	VBROADCASTSD floor+24(FP), Y0
	VADDPD Y0, Y0, Y1 // twice
	VXORPD Y5, Y5, Y5
again:
	VMOVUPD (SI), Y2
	VSUBPD Y0, Y2, Y3
	VADDPD Y3, Y3, Y3
	VMAXPD Y3, Y5, Y3 // no number if it is none
	VCMPPD $13, Y1, Y2, Y4 // at least twice the floor
	VBLENDVPD Y4, Y2, Y3, Y3
	VMOVUPD Y3, (DI)
	ADDQ $32, SI
	NEXT(again)

#define STEP(a, b) \
	VMULPD ·sinTab+b(SB), Y1, Y5 \
	VMOVUPD ·sinTab+a(SB), Y4    \
	VSUBPD Y5, Y4, Y4            \
	VMULPD Y2, Y3, Y3            \
	VADDPD Y3, Y4, Y3

// SINE turns x in Y0 into sin(pi x); Y8 is 1.
#define SINE \
	VMULPD Y0, Y0, Y1 \
	VMULPD Y1, Y1, Y2 \
	VMOVUPD ·sinTab+64(SB), Y3 \
	STEP(0, 32)      \
	STEP(96, 128)    \
	STEP(160, 192)   \
	STEP(224, 256)   \
	VSUBPD Y1, Y8, Y1 \
	VMULPD Y1, Y0, Y0 \
	VMULPD Y3, Y0, Y0

// func sines4(p *float64, n int)
TEXT ·sines4(SB), NOSPLIT, $0-16
	MOVQ p+0(FP), DI
	MOVQ n+8(FP), CX
	VMOVUPD ·consts+ONE(SB), Y8
again:
	VMOVUPD (DI), Y0
	VADDPD Y0, Y0, Y0
	VSUBPD Y0, Y8, Y0
	SINE
	VMOVUPD Y0, (DI)
	NEXT(again)

// func tones4(dst *float64, phases *uint64, n int)
TEXT ·tones4(SB), NOSPLIT, $0-24
	MOVQ dst+0(FP), DI
	MOVQ phases+8(FP), SI
	MOVQ n+16(FP), CX
	VMOVUPD ·consts+ONE(SB), Y8
	VMOVUPD ·consts+THREE(SB), Y9
again:
	VMOVDQU (SI), Y0
	VPSRLQ $12, Y0, Y0
	VPOR Y8, Y0, Y0 // 1 to 2: the bits of 1 are the exponent's
	VADDPD Y0, Y0, Y0
	VSUBPD Y0, Y9, Y0
	SINE
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	NEXT(again)

#define HORNER(at) \
	VMULPD Y2, Y3, Y3 \
	VADDPD ·expTab+at(SB), Y3, Y3

// func powers4(v *float64, n int, factor float64)
TEXT ·powers4(SB), NOSPLIT, $0-24
	MOVQ v+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSD factor+16(FP), Y9
	VMOVUPD ·consts+ONE(SB), Y8
	VMOVUPD ·consts+BIG(SB), Y10
	VMOVUPD ·consts+UP(SB), Y11
	VMOVUPD ·consts+DOWN(SB), Y12
	VMOVUPD ·consts+LEAST(SB), Y13
	VMOVUPD ·consts+MOST(SB), Y14
again:
	VMOVUPD (DI), Y0
	VMAXPD Y13, Y0, Y0 // the least if no number
	VMINPD Y14, Y0, Y0
	VADDPD Y11, Y0, Y1
	VROUNDPD $3, Y1, Y1 // cut off: n + 1022
	VSUBPD Y12, Y1, Y2
	VSUBPD Y2, Y0, Y2 // f
	VADDPD Y8, Y1, Y1
	VADDPD Y10, Y1, Y1 // n + 1023 in the lowest bits
	VPSLLQ $52, Y1, Y1 // 2^n
	VMOVUPD ·expTab+0(SB), Y3
	HORNER(32)
	HORNER(64)
	HORNER(96)
	HORNER(128)
	HORNER(160)
	HORNER(192)
	HORNER(224)
	HORNER(256)
	HORNER(288)
	VMULPD Y2, Y3, Y3
	VADDPD Y8, Y3, Y3
	VMULPD Y1, Y3, Y3
	VMULPD Y3, Y9, Y3
	VMOVUPD Y3, (DI)
	NEXT(again)

