/* Who tells the faults of a piece, or holds them until a pass is sure. */
#ifndef TB_HANDS_TELL_H
#define TB_HANDS_TELL_H

#include "support/diagnose.h"

typedef struct tb_hands tb_hands;

/* A fault found in a pass that may yet be taken back. */
typedef struct {
	tb_severity severity;
	const char *code;
	tb_span span;
	char *message, *hint;
} tb_held_fault;

/* What has been told of the piece, and what waits. */
typedef struct {
	unsigned trials; /* passes under way that may be taken back */
	unsigned choosing; /* of these, whole rows whose reading is being chosen */
	guint floor; /* what was made before the innermost of them */
	GArray *held; /* tb_held_fault */
	unsigned told[TB_ERROR + 1]; /* by severity */
	bool has_fault, row_fault; /* an error was found: in the piece, in the row */
	bool broken; /* … in the text now worked, which is more than another count */
	guint32 fault_row; /* where the first was */
} tb_teller;

/* Tells a fault of the row being worked, or holds it until the pass is sure. HINT may be NULL. */
void tb_hands_tell(tb_hands *h, tb_severity severity, const char *code, tb_span span,
	const char *hint, const char *format, ...) G_GNUC_PRINTF(6, 7);
/* Notes CODE at SPAN without a message, for what the other sizes tell there to be held against: see gather.h. */
void tb_hands_note_size(tb_hands *h, const char *code, tb_span span);
/* Tells a fault, and nothing more can be worked in this row. */
void tb_hands_give_up(tb_hands *h, const char *code, tb_span span, const char *hint,
	const char *format, ...) G_GNUC_PRINTF(5, 6);
/* Tells the faults that were held, unless a pass is under way. */
void tb_hands_deliver_held(tb_hands *h);
/* Forgets the faults held beyond the first LENGTH. */
void tb_hands_drop_held(tb_hands *h, guint length);

#endif
