/* What tests of the fabric ask again and again. */
#ifndef TB_TESTS_COUNTS_H
#define TB_TESTS_COUNTS_H

#include "support.h"

#include "fabric/fabric.h"

#include <criterion/criterion.h>
#include <string.h>

/* The stitches of a row of the first piece; G_MAXUINT32 when there is no such row. */
static inline guint32 count_row(const tb_case *c, unsigned size, guint32 number)
{
	const tb_made_row *row = tb_fabric_row(tb_worked_fabric(c->worked, 0, size), number);
	return row != NULL ? row->stitches : G_MAXUINT32;
}

/* The first fault with a code, or NULL. */
static inline const tb_diagnostic *find_fault(const tb_case *c, const char *code)
{
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(c->diagnostics, i);
		if (strcmp(fault->code, code) == 0)
			return fault;
	}
	return NULL;
}

/* How many stitches called NAME a row of the first piece has. */
static inline guint32 count_kind(const tb_case *c, unsigned size, guint32 number, const char *name)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, size);
	const tb_made_row *row = tb_fabric_row(fabric, number);
	const tb_stitch *stitch = tb_library_find(c->library, name);
	guint32 count = 0;
	for (guint32 i = 0; row != NULL && i < row->count; i++)
		count += fabric->made[row->first + i].stitch == stitch->number;
	return count;
}

/* The NTH stitch made in a row, from 0, turning chain included. */
static inline const tb_made *made_in(const tb_case *c, unsigned size, guint32 number, guint32 nth)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, size);
	const tb_made_row *row = number == 0 ? &fabric->rows[0] : tb_fabric_row(fabric, number);
	return row != NULL && nth < row->count ? &fabric->made[row->first + nth] : NULL;
}

/* Nothing at all is told. */
static inline void expect_sound(tb_case *c)
{
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_eq(tb_diagnostics_count(c->diagnostics), 0, "%s", faults);
}

/* A fault with CODE is told; the row it is in. */
static inline unsigned expect_fault(tb_case *c, const char *code)
{
	g_autofree char *faults = tb_case_faults(c);
	const tb_diagnostic *fault = find_fault(c, code);
	cr_assert_not_null(fault, "no %s in: %s", code, faults);
	return fault->row;
}

#endif
