/*
 * fused PATCH SAMPLES [-]: the reference patches as one loop each, the sample of
 * the whole patch after the other, in C with libm and double precision: what the
 * engine's speed is measured against. A program like this plays one patch only,
 * can't be edited while it sounds, and shows nothing of what goes on inside.
 *
 * Prints the nanoseconds that one sample takes; with - it writes the samples
 * themselves instead, so that a test can hold them against the engine's.
 * The settings and seeds are those of assets/patches/PATCH.json, at 48 kHz, one
 * note (A4) held from the first sample on.
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define RATE 48000.0

/* Noise: SplitMix64's finaliser over the number of the sample. */

static uint64_t mix(uint64_t z) {
	z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
	z = (z ^ z >> 27) * 0x94D049BB133111EBu;
	return z ^ z >> 31;
}

#define GOLDEN 0x9E3779B97F4A7C15u

static uint64_t key(uint64_t seed, const char *name) {
	uint64_t h = 14695981039346656037u, k = 0;
	for (; *name; name++)
		h = (h ^ (unsigned char)*name) * 1099511628211u;
	h = mix(h ^ seed * GOLDEN);
	k = mix((k + GOLDEN) ^ h);
	return mix((k + GOLDEN) ^ 0);
}

static inline double white(uint64_t key, uint64_t n) {
	return (double)((int64_t)mix(key + GOLDEN * n) >> 10 | 1) * 0x1p-53;
}

/* Envelope of RC curves; the gate is held from the start. */

typedef struct { double y, attack, decay, sustain; int attacking; } envelope;

static envelope rise(double attack, double decay, double sustain) {
	envelope e = {0, -expm1(-1 / (attack * RATE)), -expm1(-1 / (decay * RATE)), sustain, 1};
	return e;
}

static inline double next(envelope *e) {
	double y = e->y;
	if (e->attacking) {
		e->y += e->attack * (1.5819767068693265 - y);
		if (e->y >= 1)
			e->y = 1, e->attacking = 0;
	} else {
		e->y += e->decay * (e->sustain - y);
	}
	return y;
}

/* Filter: trapezoidal state-variable, tuned at every sample. */

typedef struct { double s1, s2; } filter;

static inline void tune(double *a1, double *a2, double *a3, double hz, double k) {
	double g = tan(M_PI / RATE * fmin(fmax(hz, 20), 20000));
	*a1 = 1 / (1 + g * (g + k)), *a2 = g * *a1, *a3 = g * *a2;
}

static inline double band(filter *f, double x, double a1, double a2, double a3, double k, double *low) {
	double v3 = x - f->s2, v1 = a1 * f->s1 + a2 * v3, v2 = f->s2 + a2 * f->s1 + a3 * v3;
	f->s1 = 2 * v1 - f->s1, f->s2 = 2 * v2 - f->s2;
	*low = v2;
	return k * v1;
}

/* Sine: a phase of 0 to 1. */

static inline double sine(double *phase, double hz) {
	double y = sin(2 * M_PI * *phase);
	if ((*phase += hz * (1 / RATE)) >= 1)
		*phase -= 1;
	return y;
}

/* Saw: its falls are mended by a table of band-limited steps. */

#define POINTS 48
#define DELAY 24
#define LENGTH 28
#define ROWS 1024
#define LINE 4096

static double steps[ROWS + 1][LENGTH];

/* The low-pass at 48 kHz is a sum of cosines, as package step has it; its integral is
   one of sines. */
static const double cosines[] = {
	1, 1.9999387809371254, 1.9985928964127682, 1.9987135434637633, 2.0021276423379644,
	1.9982204341357888, 2.0009678826692903, 1.9998829596550485, 1.9994905114601087, 2.0006763812197246,
	2.0004763936661361, 1.9534500589977821, 1.5278437052879217, 0.74610485092022805,
	0.18353540389821343, 0.016181187384884128, 0.00013995521698471409, -8.5318785234107359e-08,
	1.3607896694676838e-06, -1.8498698444094244e-07, -6.6421323786262098e-07, 1.0907409432355213e-06,
	-1.2734674486621477e-06, 1.3341380237859168e-06, -1.3192286516005204e-06, 1.2142984364479807e-06,
	-9.2924374025388986e-07
};

static void make_steps(void) {
	enum { half = LENGTH / 2 * ROWS };
	static double jump[half + 1];
	for (int i = 0; i <= half; i++) {
		double u = (double)i / ROWS, sum = u;
		for (int k = 1; k < (int)(sizeof cosines / sizeof *cosines); k++) {
			double w = 2 * M_PI * k / LENGTH;
			sum += (k % 2 ? -1 : 1) * cosines[k] * sin(w * u) / w;
		}
		jump[i] = sum / LENGTH;
	}
	for (int j = 0; j <= ROWS; j++)
		for (int k = 0; k < LENGTH; k++) {
			int i = k * ROWS + j;
			steps[j][k] = k < LENGTH / 2 ? jump[i] : -jump[2 * half - i];
		}
}

typedef struct { double p, d0, d1, line[LINE + POINTS]; int head; } saw;

static inline double at(double t, double p, double d1, double b0, double b1) {
	return p + t * d1 - t * (1 - t) * ((2 - t) * b0 + (1 + t) * b1) / 6;
}

/* When the phase, a cubic through four samples, reaches one half. */
static inline double fall(double p, double d0, double d1, double d2) {
	double b0 = d1 - d0, b1 = d2 - d1, t = (0.5 - p) / d1;
	for (int i = 0; i < 3 && (b0 != 0 || b1 != 0); i++)
		t -= (at(t, p, d1, b0, b1) - 0.5) / (d1 - ((2 - 6 * t + 3 * t * t) * b0 + (1 - 3 * t * t) * b1) / 6);
	return fmin(fmax(t, 0), 1);
}

static inline double sawtooth(saw *s, double hz) {
	double d2 = hz * (1 / RATE), p1 = s->p + s->d1, *line = s->line + s->head;
	if (s->p < 0.5 && p1 >= 0.5) {
		double late = (1 - fall(s->p, s->d0, s->d1, d2)) * ROWS;
		int j = (int)fmin(late, ROWS - 1);
		double b = -2 * (late - j), a = -2 - b;
		for (int k = 0; k < LENGTH; k++)
			line[DELAY - LENGTH / 2 + k] += a * steps[j][k] + b * steps[j + 1][k];
	}
	if (p1 >= 1)
		p1 -= 1;
	s->p = p1, s->d0 = s->d1, s->d1 = d2;
	line[DELAY] += p1 < 0.5 ? 2 * p1 : 2 * p1 - 2;
	double y = line[0];
	if (++s->head == LINE) {
		memcpy(s->line, s->line + LINE, POINTS * sizeof(double));
		memset(s->line + POINTS, 0, LINE * sizeof(double));
		s->head = 0;
	}
	return y;
}

static void begin(saw *s, double hz) {
	memset(s, 0, sizeof *s);
	s->d0 = s->d1 = hz / RATE;
	s->p = -(DELAY + 1) * s->d1;
	s->p -= floor(s->p);
	for (int i = 0; i < POINTS; i++)
		sawtooth(s, hz);
}

static double db(double x) { return pow(10, x / 20); }

/* The patches. Each fills out with n samples. */

static void hiss(double *out, int n) {
	uint64_t steam = key(25, "steam");
	envelope swell = rise(0.4, 0.2, 0.8);
	filter leak = {0, 0};
	double draught = 0, rattle = 0, level = db(6), end = db(-3), low;
	for (int i = 0; i < n; i++) {
		double a1, a2, a3;
		tune(&a1, &a2, &a3, 1800 * exp2(0.8 * sine(&draught, 0.31)), 1.0 / 4);
		double y = band(&leak, white(steam, i), a1, a2, a3, 1.0 / 4, &low);
		out[i] = y * level * next(&swell) * (1 + 0.6 * sine(&rattle, 25)) * end;
	}
}

static void hiss_fixed(double *out, int n) {
	uint64_t steam = key(25, "steam");
	envelope fade = rise(0.5, 0.1, 1);
	filter whistle = {0, 0};
	double beat = 0, level = db(6), low, a1, a2, a3;
	tune(&a1, &a2, &a3, 1000, 1.0 / 20);
	for (int i = 0; i < n; i++) {
		double y = band(&whistle, white(steam, i), a1, a2, a3, 1.0 / 20, &low);
		out[i] = y * level * (1 + 0.8 * sine(&beat, 25)) * next(&fade);
	}
}

static void brass(double *out, int n) {
	static saw first, second;
	envelope lips = rise(0.09, 0.3, 0.6), blow = rise(0.04, 0.2, 0.85);
	filter bore = {0, 0};
	double breath = 0, pair = db(-9), end = db(-3), k = 1 / 1.2;
	volatile double held = 0; /* the pitch of the note: known only when it is played */
	begin(&first, 220), begin(&second, 220.7);
	for (int i = 0; i < n; i++) {
		double pitch = held, swing = exp2(pitch + 0.006 * sine(&breath, 5.5)), a1, a2, a3, low;
		double x = pair * sawtooth(&first, 220 * swing) + pair * sawtooth(&second, 220.7 * swing);
		tune(&a1, &a2, &a3, 320 * exp2(0.5 * pitch + 3.2 * next(&lips)), k);
		band(&bore, x, a1, a2, a3, k, &low);
		out[i] = low * next(&blow) * end;
	}
}

static void bell(double *out, int n) {
	envelope strike = rise(0.001, 0.7, 0), fading = rise(0.001, 1.8, 0);
	double clapper = 0, bronze = 0, end = db(-3);
	volatile double held = 0;
	for (int i = 0; i < n; i++) {
		double up = exp2(held), bend = sine(&clapper, 616 * up) * next(&strike);
		double hz = fmin(fmax(440 * up + 900 * bend, 0.01), 20000);
		out[i] = sine(&bronze, hz) * next(&fading) * end;
	}
}

static const struct { const char *name; void (*run)(double *, int); } patches[] = {
	{"hiss", hiss}, {"hiss-fixed", hiss_fixed}, {"brass", brass}, {"bell", bell},
};

/* Processor time: what else runs on the machine does not count. */
static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return t.tv_sec * 1e9 + t.tv_nsec;
}

int main(int argc, char **argv) {
	int n = argc > 2 ? atoi(argv[2]) : 0;
	double *out = n > 0 ? calloc(n, sizeof *out) : NULL;
	make_steps();
	for (int i = 0; out && i < 4; i++) {
		if (strcmp(patches[i].name, argv[1]))
			continue;
		double start = now();
		patches[i].run(out, n);
		double taken = now() - start;
		if (argc > 3)
			return fwrite(out, sizeof *out, n, stdout) != (size_t)n;
		printf("%.3f\n", taken / n);
		return 0;
	}
	fprintf(stderr, "usage: fused hiss|hiss-fixed|brass|bell SAMPLES [-]\n");
	return 2;
}
