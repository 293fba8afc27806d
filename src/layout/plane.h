/* Places and ways on the plane as complex numbers, reckoned plainly: none of them is ever near where a number ends. */
#ifndef TB_LAYOUT_PLANE_H
#define TB_LAYOUT_PLANE_H

#include <complex.h>
#include <math.h>

/* Some compilers' C library has no macro for it. */
#ifndef CMPLX
#define CMPLX(real, imaginary) ((double complex){(real), (imaginary)})
#endif

static inline double square_of(double complex v)
{
	return creal(v) * creal(v) + cimag(v) * cimag(v);
}

/* Lengths are far from where the plain root could overflow, and cabs takes ten times as long. */
static inline double length_of(double complex v)
{
	return sqrt(square_of(v));
}

static inline double complex unit_or(double complex v, double complex otherwise)
{
	double length = length_of(v);
	return length > 1e-9 ? v * (1 / length) : otherwise;
}

static inline double complex unit_of(double complex v)
{
	return unit_or(v, I);
}

/* The product; C's own looks whether it is a number, and calls for help where not. */
static inline double complex times(double complex a, double complex b)
{
	return CMPLX(creal(a) * creal(b) - cimag(a) * cimag(b), creal(a) * cimag(b) + cimag(a) * creal(b));
}

/* A quarter turn to the left. */
static inline double complex left_of(double complex v)
{
	return CMPLX(-cimag(v), creal(v));
}

static inline double dot(double complex a, double complex b)
{
	return creal(a) * creal(b) + cimag(a) * cimag(b);
}

static inline double complex turned(double angle)
{
	return CMPLX(cos(angle), sin(angle));
}

#endif
