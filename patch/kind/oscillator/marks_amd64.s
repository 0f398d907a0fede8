// Code that marks steps, four at a time. Products and sums are rounded one by one, as
// the Go code does.

#include "textflag.h"

// MARK adds the marks of four steps, those whose lanes of Y2 are not all ones, to AX.
#define MARK(again) \
	VMOVMSKPD Y2, DX \
	XORQ $15, DX     \
	SHLQ CX, DX      \
	ORQ DX, AX       \
	ADDQ $32, SI     \
	ADDQ $4, CX      \
	CMPQ CX, R8      \
	JLT again        \
	VZEROUPPER

// SAME leaves ones in Y2 where the places in Y0 and Y1 lie in the same cycle.
#define SAME \
	VPXOR Y1, Y0, Y2     \
	VPSRLQ $58, Y2, Y2   \
	VPCMPEQQ Y15, Y2, Y2

// func crossedFours(places *int64, n int, shift uint, less int64) uint64
TEXT ·crossedFours(SB), NOSPLIT, $0-40
	MOVQ places+0(FP), SI
	MOVQ n+8(FP), R8
	VMOVQ shift+16(FP), X13
	VPBROADCASTQ less+24(FP), Y14
	VPXOR Y15, Y15, Y15
	XORL AX, AX
	XORL CX, CX
again:
	VMOVDQU (SI), Y0
	VMOVDQU 8(SI), Y1
	VPSLLQ X13, Y0, Y0
	VPSLLQ X13, Y1, Y1
	VPSUBQ Y14, Y0, Y0
	VPSUBQ Y14, Y1, Y1
	SAME
	MARK(again)
	MOVQ AX, ret+32(FP)
	RET

// func overtakenFours(places, widths *int64, n int) uint64
TEXT ·overtakenFours(SB), NOSPLIT, $0-32
	MOVQ places+0(FP), SI
	MOVQ widths+8(FP), DI
	MOVQ n+16(FP), R8
	VPXOR Y15, Y15, Y15
	XORL AX, AX
	XORL CX, CX
again:
	VMOVDQU (SI), Y0
	VMOVDQU 8(SI), Y1
	VPSUBQ (DI), Y0, Y0
	VPSUBQ 8(DI), Y1, Y1
	ADDQ $32, DI
	SAME
	MARK(again)
	MOVQ AX, ret+24(FP)
	RET

DATA quarter<>+0(SB)/8, $0.25
GLOBL quarter<>(SB), RODATA|NOPTR, $8

// func turningFours(steps *float64, n int) uint64
TEXT ·turningFours(SB), NOSPLIT, $0-24
	MOVQ steps+0(FP), SI
	MOVQ n+8(FP), R8
	VBROADCASTSD quarter<>(SB), Y15
	XORL AX, AX
	XORL CX, CX
again:
	VMOVUPD 8(SI), Y0
	VMULPD (SI), Y0, Y1
	VMULPD 16(SI), Y0, Y2
	VMULPD Y0, Y0, Y3
	VMULPD Y15, Y3, Y3
	VCMPPD $30, Y3, Y1, Y1 // greater
	VCMPPD $30, Y3, Y2, Y2
	VANDPD Y1, Y2, Y2
	MARK(again)
	MOVQ AX, ret+16(FP)
	RET

DATA weights<>+0(SB)/8, $0.002
DATA weights<>+8(SB)/8, $0.02
DATA weights<>+16(SB)/8, $0.102
DATA weights<>+24(SB)/8, $0.445
GLOBL weights<>(SB), RODATA|NOPTR, $32

// func bendsFours(s *[9]float64) float64
TEXT ·bendsFours(SB), NOSPLIT, $0-16
	MOVQ s+0(FP), SI
	VPCMPEQD Y2, Y2, Y2
	VPSRLQ $1, Y2, Y2 // all but the sign
	VMOVUPD 8(SI), Y0
	VSUBPD (SI), Y0, Y0
	VMOVUPD 40(SI), Y1
	VSUBPD 32(SI), Y1, Y1
	VANDPD Y2, Y0, Y0
	VANDPD Y2, Y1, Y1
	VPERMPD $27, Y1, Y1
	VADDPD Y1, Y0, Y0
	VMULPD weights<>(SB), Y0, Y0
	VHADDPD Y0, Y0, Y0
	VEXTRACTF128 $1, Y0, X1
	VADDSD X0, X1, X0
	VMOVSD X0, ret+8(FP)
	VZEROUPPER
	RET

// BEND leaves the sum of two second differences, without their signs, times a weight
// in to.
#define BEND(a, b, weight, to) \
	VMOVUPD (8*(a+1))(SI), to  \
	VSUBPD (8*a)(SI), to, to   \
	VANDPD Y15, to, to         \
	VMOVUPD (8*(b+1))(SI), Y4  \
	VSUBPD (8*b)(SI), Y4, Y4   \
	VANDPD Y15, Y4, Y4         \
	VADDPD Y4, to, to          \
	VMULPD weight, to, to

// func bendsMany(dst, s *float64, n int)
TEXT ·bendsMany(SB), NOSPLIT, $0-24
	MOVQ dst+0(FP), DI
	MOVQ s+8(FP), SI
	MOVQ n+16(FP), CX
	VPCMPEQD Y15, Y15, Y15
	VPSRLQ $1, Y15, Y15 // all but the sign
	VBROADCASTSD weights<>+0(SB), Y11
	VBROADCASTSD weights<>+8(SB), Y12
	VBROADCASTSD weights<>+16(SB), Y13
	VBROADCASTSD weights<>+24(SB), Y14
again:
	BEND(3, 4, Y14, Y0)
	BEND(2, 5, Y13, Y1)
	BEND(1, 6, Y12, Y2)
	BEND(0, 7, Y11, Y3)
	VADDPD Y1, Y0, Y0
	VADDPD Y3, Y2, Y2
	VADDPD Y2, Y0, Y0
	VMOVUPD Y0, (DI)
	ADDQ $32, SI
	ADDQ $32, DI
	SUBQ $4, CX
	JGT again
	VZEROUPPER
	RET
