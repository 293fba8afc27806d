/*
 * A symmetric, positive definite system of linear equations, factored once and solved many times.
 *
 * Entries are added pair by pair; unknowns that share an entry are neighbours. The unknowns are numbered so that
 * neighbours stand close (reverse Cuthill-McKee), and each row of the factor is kept from its first entry to
 * the diagonal (the envelope). For a fabric of n stitches whose shorter way across is b, that takes n * b numbers,
 * n * b * b / 2 multiplications to factor and 2 * n * b to solve.
 */
#ifndef TB_LAYOUT_ENVELOPE_H
#define TB_LAYOUT_ENVELOPE_H

#include <glib.h>
#include <stdbool.h>

typedef struct tb_envelope tb_envelope;

/*
 * For COUNT unknowns. LAST is one that touches most others and is kept at the end whatever its neighbours; G_MAXUINT32
 * for none. Owned: tb_envelope_free.
 */
tb_envelope *tb_envelope_new(guint32 count, guint32 last);
void tb_envelope_free(tb_envelope *envelope);

/* Adds VALUE to the entry of I and J, and to that of J and I. */
void tb_envelope_add(tb_envelope *envelope, guint32 i, guint32 j, double value);

/*
 * Numbers and factors what was added. False when it is not positive definite, or too large to be kept (256 MiB): then
 * nothing can be solved.
 */
bool tb_envelope_factor(tb_envelope *envelope);

/*
 * Solves for SIDES right hand sides at once, one or two: X holds COUNT times SIDES numbers, those of an unknown side by
 * side; the solution takes their place. Of one, the unknown LAST is kept within LOW and HIGH, and the others are what is
 * best then.
 */
void tb_envelope_solve(const tb_envelope *envelope, double *x, unsigned sides, double low, double high);

/* How many numbers the factor has: what a solution costs. */
gsize tb_envelope_size(const tb_envelope *envelope);

#endif
