// Code that finds when four curves have gone so far. Products and sums are rounded one
// by one, as the Go code does (no fused multiply-add), so the bits are the same.

#include "textflag.h"

// Where the numbers stand in a solver: the steps, 256 bytes from one to the next, and
// behind them what is asked and answered.
#define STEP 256
#define FAR 2304
#define TIME 2560
#define SLOPE 2816
#define SECOND 3072
#define THIRD 3328
#define FOURTH 3584

// Where the coefficients of four curves stand, behind all that, and those of their
// slopes; they take 576 bytes.
#define WORK 3840
#define EVEN 0
#define ODD 160
#define RISE 320 // 2, 4, 6, 8 times the even ones from the second on
#define TURN 448 // 3, 5, 7, 9 times the odd ones

#define NUMBER(name, value) \
	DATA name<>+0(SB)/8, value     \
	DATA name<>+8(SB)/8, value     \
	DATA name<>+16(SB)/8, value    \
	DATA name<>+24(SB)/8, value    \
	GLOBL name<>(SB), RODATA|NOPTR, $32

NUMBER(n0p25, $0.25)
NUMBER(n0p5, $0.5)
NUMBER(n1, $1.0)
NUMBER(n2, $2.0)
NUMBER(n3, $3.0)
NUMBER(n4, $4.0)
NUMBER(n5, $5.0)
NUMBER(n6, $6.0)
NUMBER(n7, $7.0)
NUMBER(n8, $8.0)
NUMBER(n9, $9.0)
NUMBER(n12, $12.0)
NUMBER(n20, $20.0)
NUMBER(n24, $24.0)
NUMBER(n30, $30.0)
NUMBER(n42, $42.0)
NUMBER(n56, $56.0)
NUMBER(n60, $60.0)
NUMBER(n72, $72.0)
NUMBER(n120, $120.0)
NUMBER(n210, $210.0)
NUMBER(n336, $336.0)
NUMBER(n360, $360.0)
NUMBER(n504, $504.0)
NUMBER(n840, $840.0)
NUMBER(n1680, $1680.0)
NUMBER(n3024, $3024.0)

// PAIR leaves the sum of the second differences before steps a+1 and b+1 in sum, and
// how much more the latter is in more.
#define PAIR(a, b, sum, more) \
	VMOVUPD (STEP*(a+1))(SI), Y8     \
	VSUBPD (STEP*a)(SI), Y8, Y8      \
	VMOVUPD (STEP*(b+1))(SI), Y9     \
	VSUBPD (STEP*b)(SI), Y9, Y9      \
	VADDPD Y8, Y9, sum               \
	VSUBPD Y8, Y9, more

// POWER leaves one coefficient in Y8, of the numbers in four registers.
#define POWER(k, a, b, c, d) \
	VMULPD (128*k)(DX), a, Y8        \
	VMULPD (128*k+32)(DX), b, Y9     \
	VADDPD Y9, Y8, Y8                \
	VMULPD (128*k+64)(DX), c, Y9     \
	VMULPD (128*k+96)(DX), d, Y10    \
	VADDPD Y10, Y9, Y9               \
	VADDPD Y9, Y8, Y8

#define TIMES(number, at) \
	VMULPD number<>(SB), Y8, Y9      \
	VMOVUPD Y9, at(DI)

// FIVE leaves (a + b v) + w ((c + d v) + e w) in to; v is in Y4, w in Y5.
#define FIVE(at, to) \
	VMULPD (at+32)(DI), Y4, to       \
	VADDPD at(DI), to, to            \
	VMULPD (at+96)(DI), Y4, Y8       \
	VADDPD (at+64)(DI), Y8, Y8       \
	VMULPD (at+128)(DI), Y5, Y9      \
	VADDPD Y9, Y8, Y8                \
	VMULPD Y8, Y5, Y8                \
	VADDPD Y8, to, to

// NEAR leaves how far the curves have gone at u, in Y3, in Y6, and how fast in Y7.
#define NEAR \
	VMULPD Y3, Y3, Y4                \
	VMULPD Y4, Y4, Y5                \
	FIVE(EVEN, Y6)                   \
	FIVE(ODD, Y7)                    \
	VMULPD Y7, Y3, Y7                \
	VADDPD Y7, Y6, Y6                \
	SLOPES

#define SLOPES \
	VMULPD (TURN)(DI), Y4, Y7        \
	VADDPD (ODD)(DI), Y7, Y7         \
	VMULPD (TURN+64)(DI), Y4, Y8     \
	VADDPD (TURN+32)(DI), Y8, Y8     \
	VMULPD (TURN+96)(DI), Y5, Y9     \
	VADDPD Y9, Y8, Y8                \
	VMULPD Y8, Y5, Y8                \
	VADDPD Y8, Y7, Y7                \
	VMULPD (RISE+32)(DI), Y4, Y8     \
	VADDPD (RISE)(DI), Y8, Y8        \
	VMULPD (RISE+96)(DI), Y4, Y9     \
	VADDPD (RISE+64)(DI), Y9, Y9     \
	VMULPD Y9, Y5, Y9                \
	VADDPD Y9, Y8, Y8                \
	VMULPD Y8, Y3, Y8                \
	VADDPD Y8, Y7, Y7

// FIRST goes back to the first four, FOLLOWING on to the next, if any are left.
#define FIRST \
	MOVQ R8, SI                      \
	MOVQ R9, DI                      \
	MOVQ R10, CX

#define FOLLOWING(again) \
	ADDQ $32, SI                     \
	ADDQ $576, DI                    \
	SUBQ $4, CX                      \
	JGT again

// SUM leaves (p a + q b v) + w (r c + s d v) in to, where a to d are coefficients.
#define SUM4(p, a, q, b, r, c, s, d, to) \
	SUM2(p, a, q, b, to)             \
	VMOVUPD d(DI), Y9                \
	VMULPD s<>(SB), Y9, Y9           \
	VMULPD Y4, Y9, Y9                \
	VMOVUPD c(DI), Y8                \
	VMULPD r<>(SB), Y8, Y8           \
	VADDPD Y9, Y8, Y8                \
	VMULPD Y8, Y5, Y8                \
	VADDPD Y8, to, to

#define SUM3(p, a, q, b, r, c, to) \
	SUM2(p, a, q, b, to)             \
	VMOVUPD c(DI), Y8                \
	VMULPD r<>(SB), Y8, Y8           \
	VMULPD Y8, Y5, Y8                \
	VADDPD Y8, to, to

#define SUM2(p, a, q, b, to) \
	VMOVUPD b(DI), Y9                \
	VMULPD q<>(SB), Y9, Y9           \
	VMULPD Y4, Y9, Y9                \
	VMOVUPD a(DI), to                \
	VMULPD p<>(SB), to, to           \
	VADDPD Y9, to, to

#define BOTH(at) \
	VMULPD Y7, Y3, Y7                \
	VADDPD Y7, Y6, Y6                \
	VMOVUPD Y6, at(SI)

// func solveFours(s *solver, coefficients *[10][4][4]float64, n int, derivatives bool)
//
// All fours take one step of the way before any takes the next: what each waits for is
// long, and so the others go on meanwhile.
TEXT ·solveFours(SB), NOSPLIT, $0-25
	MOVQ s+0(FP), SI
	LEAQ WORK(SI), DI
	MOVQ coefficients+8(FP), DX
	MOVQ n+16(FP), CX
	MOVBLZX derivatives+24(FP), BX
	MOVQ SI, R8
	MOVQ DI, R9
	MOVQ CX, R10
	VMOVUPD n1<>(SB), Y12
	VMOVUPD n0p5<>(SB), Y13
again:
	PAIR(3, 4, Y0, Y4)
	PAIR(2, 5, Y1, Y5)
	PAIR(1, 6, Y2, Y6)
	PAIR(0, 7, Y3, Y7)
	VMOVUPD (STEP*4)(SI), Y11
	POWER(0, Y0, Y1, Y2, Y3)
	VMULPD n0p5<>(SB), Y11, Y9
	VADDPD Y9, Y8, Y8
	VMOVUPD Y8, (EVEN)(DI)
	POWER(1, Y0, Y1, Y2, Y3)
	VMOVUPD Y8, (EVEN+32)(DI)
	TIMES(n2, (RISE+0))
	POWER(2, Y0, Y1, Y2, Y3)
	VMOVUPD Y8, (EVEN+64)(DI)
	TIMES(n4, (RISE+32))
	POWER(3, Y0, Y1, Y2, Y3)
	VMOVUPD Y8, (EVEN+96)(DI)
	TIMES(n6, (RISE+64))
	POWER(4, Y0, Y1, Y2, Y3)
	VMOVUPD Y8, (EVEN+128)(DI)
	TIMES(n8, (RISE+96))
	POWER(5, Y4, Y5, Y6, Y7)
	VADDPD Y11, Y8, Y8
	VMOVUPD Y8, (ODD)(DI)
	POWER(6, Y4, Y5, Y6, Y7)
	VMOVUPD Y8, (ODD+32)(DI)
	TIMES(n3, (TURN+0))
	POWER(7, Y4, Y5, Y6, Y7)
	VMOVUPD Y8, (ODD+64)(DI)
	TIMES(n5, (TURN+32))
	POWER(8, Y4, Y5, Y6, Y7)
	VMOVUPD Y8, (ODD+96)(DI)
	TIMES(n7, (TURN+64))
	POWER(9, Y4, Y5, Y6, Y7)
	VMOVUPD Y8, (ODD+128)(DI)
	TIMES(n9, (TURN+96))
	VMOVUPD (STEP*5)(SI), Y0
	VSUBPD (STEP*4)(SI), Y0, Y0
	VMOVUPD (STEP*4)(SI), Y1
	VSUBPD (STEP*3)(SI), Y1, Y1
	VADDPD Y1, Y0, Y1
	VMULPD n0p25<>(SB), Y1, Y1       // bend
	VMOVUPD FAR(SI), Y0
	VSUBPD Y1, Y11, Y2               // slope
	VMULPD Y2, Y2, Y3
	VMULPD n4<>(SB), Y1, Y1
	VMULPD Y0, Y1, Y1
	VADDPD Y1, Y3, Y3
	VXORPD Y4, Y4, Y4
	VMAXPD Y4, Y3, Y3
	VSQRTPD Y3, Y3
	VPCMPEQD Y4, Y4, Y4
	VPSLLQ $63, Y4, Y4               // the sign
	VANDPD Y4, Y11, Y4
	VORPD Y4, Y3, Y3                 // root, as the step goes
	VADDPD Y3, Y2, Y2
	VADDPD Y0, Y0, Y3
	VDIVPD Y2, Y3, Y3
	VSUBPD Y13, Y3, Y3
	VMOVUPD Y3, TIME(SI)
	FOLLOWING(again)
	MOVQ $3, R11
newton:
	FIRST
one:
	VMOVUPD TIME(SI), Y3
	VMOVUPD FAR(SI), Y0
	NEAR
	VSUBPD Y0, Y6, Y6
	VDIVPD Y7, Y6, Y6
	VSUBPD Y6, Y3, Y3
	VMOVUPD Y3, TIME(SI)
	FOLLOWING(one)
	DECQ R11
	JNZ newton
	FIRST
end:
	VMOVUPD TIME(SI), Y3
	VADDPD Y13, Y3, Y3
	VXORPD Y1, Y1, Y1
	VMAXPD Y1, Y3, Y3                // 0 also where it is no number
	VMINPD Y12, Y3, Y3
	VMOVUPD Y3, TIME(SI)
	TESTB BX, BX
	JEQ next
	VSUBPD Y13, Y3, Y3
	VMULPD Y3, Y3, Y4
	VMULPD Y4, Y4, Y5
	SLOPES
	VMOVUPD Y7, SLOPE(SI)
	SUM4(n2, (EVEN+32), n12, (EVEN+64), n30, (EVEN+96), n56, (EVEN+128), Y6)
	SUM4(n6, (ODD+32), n20, (ODD+64), n42, (ODD+96), n72, (ODD+128), Y7)
	BOTH(SECOND)
	SUM4(n6, (ODD+32), n60, (ODD+64), n210, (ODD+96), n504, (ODD+128), Y6)
	SUM3(n24, (EVEN+64), n120, (EVEN+96), n336, (EVEN+128), Y7)
	BOTH(THIRD)
	SUM3(n24, (EVEN+64), n360, (EVEN+96), n1680, (EVEN+128), Y6)
	SUM3(n120, (ODD+64), n840, (ODD+96), n3024, (ODD+128), Y7)
	BOTH(FOURTH)
next:
	FOLLOWING(end)
	VZEROUPPER
	RET
