/*
 * How much yarn the work takes, where the designer weighed a swatch: "my test piece, 20 tr wide and 10 rows deep,
 * weighed 5 g". It is an estimate, by the number of stitches; seams, fringes and what is cut off are not in it.
 */
#ifndef TB_FABRIC_YARN_H
#define TB_FABRIC_YARN_H

#include "fabric/fabric.h"

typedef struct {
	double stitches, rows; /* of the swatch */
	double grams;          /* it weighs */
} tb_swatch;

/*
 * The swatch the pattern's words tell of, and what all pieces take in each size, as often as each is made, in grams;
 * 0 for a size with a fault. False where none is weighed, or no size is without one.
 */
bool tb_yarn_estimate(const tb_worked *worked, tb_swatch *swatch, double *grams);

#endif
