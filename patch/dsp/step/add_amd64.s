// Code that adds one corner, four samples at a time. Products and sums are rounded
// one by one, as the Go code does (no fused multiply-add), so the bits are the same.

#include "textflag.h"

#define FOUR(at) \
	VMULPD at(SI), Y0, Y2 \
	VMULPD at(DX), Y1, Y3 \
	VADDPD Y3, Y2, Y2     \
	VADDPD at(DI), Y2, Y2 \
	VMOVUPD Y2, at(DI)

#define ONE(at) \
	VMULSD at(SI), X0, X2 \
	VMULSD at(DX), X1, X3 \
	VADDSD X3, X2, X2     \
	VADDSD at(DI), X2, X2 \
	VMOVSD X2, at(DI)

// func addFours(dst, r0, r1 *[48]float64, a, b float64)
//
// Points 16 to 27 may have just been written one by one (Line.Put); read together,
// they would have to wait until these writes are through to the cache.
TEXT ·addFours(SB), NOSPLIT, $0-40
	MOVQ dst+0(FP), DI
	MOVQ r0+8(FP), SI
	MOVQ r1+16(FP), DX
	VBROADCASTSD a+24(FP), Y0
	VBROADCASTSD b+32(FP), Y1
	FOUR(0)
	FOUR(32)
	FOUR(64)
	FOUR(96)
	ONE(128)
	ONE(136)
	ONE(144)
	ONE(152)
	ONE(160)
	ONE(168)
	ONE(176)
	ONE(184)
	ONE(192)
	ONE(200)
	ONE(208)
	ONE(216)
	FOUR(224)
	FOUR(256)
	FOUR(288)
	FOUR(320)
	FOUR(352)
	VZEROUPPER
	RET
