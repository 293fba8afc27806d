/* Who tells the faults of a piece, or holds them until a pass is sure. */
#include "hands/hands.h"
#include "hands/taken.h"

/* A pattern that is wrong in row 1 is wrong everywhere; nobody reads more than this of it. */
#define MOST_TOLD 20u

/* The number of the row being worked; what the foundation tells is told of row 1. */
static guint32 number_of_row(const tb_hands *h)
{
	const tb_made_row *row = h->row < h->cloth.rows->len ? tb_hands_row(h, h->row) : NULL;
	guint32 number = row != NULL && !row->unsure ? row->number - row->before : 0;
	return number == 0 && h->row == 0 && h->sentence != NULL ? h->sentence->first : number;
}

static void deliver(tb_hands *h, const tb_held_fault *fault)
{
	if (h->working->gather != NULL)
		tb_gather_add(h->working->gather, h->size, number_of_row(h),
			h->sentence != NULL && h->sentence->is_round, fault->severity, fault->code,
			fault->span, fault->message, fault->hint);
	h->teller.told[fault->severity] += fault->message != NULL;
}

/* Of each severity so many are told: no number of warnings keeps an error back. */
static bool is_enough(const tb_hands *h, tb_severity severity)
{
	unsigned told = h->teller.told[severity];
	for (guint i = 0; i < h->teller.held->len; i++) {
		const tb_held_fault *fault = &g_array_index(h->teller.held, tb_held_fault, i);
		told += fault->severity == severity && fault->message != NULL;
	}
	return told >= MOST_TOLD;
}

static void tell(tb_hands *h, tb_severity severity, const char *code, tb_span span,
	const char *hint, const char *format, va_list args)
{
	if (tb_taken_doubts(h, severity, code)) {
		h->now.unjudged = h->teller.row_fault = h->teller.row_fault || severity == TB_ERROR;
		return;
	}
	if (severity == TB_ERROR) {
		h->teller.row_fault = true;
		h->teller.broken = h->teller.broken || (h->teller.trials == 0 && !g_str_has_prefix(code, "count") && !g_str_has_prefix(code, "claim"));
		if (h->teller.trials == 0 && !h->teller.has_fault)
			h->teller.fault_row = h->row;
		if (h->teller.trials == 0)
			h->teller.has_fault = true;
	}
	if (is_enough(h, severity))
		return;
	tb_held_fault fault = {severity, code, span, g_strdup_vprintf(format, args), g_strdup(hint)};
	if (h->teller.trials > 0) {
		g_array_append_val(h->teller.held, fault);
		return;
	}
	deliver(h, &fault);
	g_free(fault.message);
	g_free(fault.hint);
}

void tb_hands_tell(tb_hands *h, tb_severity severity, const char *code, tb_span span,
	const char *hint, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	tell(h, severity, code, span, hint, format, args);
	va_end(args);
}

void tb_hands_note_size(tb_hands *h, const char *code, tb_span span)
{
	tb_held_fault fault = {TB_NOTE, code, span, NULL, NULL};
	if (h->teller.trials > 0)
		g_array_append_val(h->teller.held, fault);
	else
		deliver(h, &fault);
}

void tb_hands_give_up(
	tb_hands *h, const char *code, tb_span span, const char *hint, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	tell(h, TB_ERROR, code, span, hint, format, args);
	va_end(args);
	h->cursor.over = true;
}

void tb_hands_drop_held(tb_hands *h, guint length)
{
	for (guint i = length; i < h->teller.held->len; i++) {
		tb_held_fault *fault = &g_array_index(h->teller.held, tb_held_fault, i);
		g_free(fault->message);
		g_free(fault->hint);
	}
	g_array_set_size(h->teller.held, length);
}

void tb_hands_deliver_held(tb_hands *h)
{
	if (h->teller.trials > 0)
		return;
	for (guint i = 0; i < h->teller.held->len; i++) {
		const tb_held_fault *fault = &g_array_index(h->teller.held, tb_held_fault, i);
		h->teller.has_fault = h->teller.has_fault || fault->severity == TB_ERROR;
		deliver(h, fault);
	}
	tb_hands_drop_held(h, 0);
}
