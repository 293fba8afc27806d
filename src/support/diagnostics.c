/*
 * The list of faults.
 *
 * Readers and the worker add faults in the order they meet them, a row's many times over when it is
 * worked in many sizes or repeated. A hash table on code, place and piece keeps each told once; the
 * list is put in order of place only when somebody reads it.
 */
#include "support/diagnostics.h"
#include "support/diagnose.h"
#include "support/limits.h"

#include <stdarg.h>
#include <string.h>

typedef struct tb_fault tb_fault;
struct tb_fault {
	tb_diagnostic diagnostic;
	unsigned order;
	tb_fault *next; /* another message of the same code, place and piece; borrowed */
};

static guint hash_fault(gconstpointer key)
{
	const tb_diagnostic *d = &((const tb_fault *)key)->diagnostic;
	guint hash = g_str_hash(d->code);
	hash = hash * 31 + (guint)d->place.start;
	hash = hash * 31 + (guint)d->place.end;
	return hash * 31 + (d->piece != NULL ? g_str_hash(d->piece) : 0);
}

static gboolean is_same_fault(gconstpointer a, gconstpointer b)
{
	const tb_diagnostic *x = &((const tb_fault *)a)->diagnostic;
	const tb_diagnostic *y = &((const tb_fault *)b)->diagnostic;
	return x->severity == y->severity && x->has_place == y->has_place &&
		   x->place.start == y->place.start && x->place.end == y->place.end &&
		   strcmp(x->code, y->code) == 0 && g_strcmp0(x->piece, y->piece) == 0 &&
		   (x->has_place || g_strcmp0(x->message, y->message) == 0);
}

static void destroy_fault(gpointer data)
{
	tb_fault *fault = data;
	g_free(fault->diagnostic.piece);
	g_free(fault->diagnostic.message);
	g_free(fault->diagnostic.hint);
	g_free(fault);
}

tb_diagnostics *tb_diagnostics_create(const tb_source *source)
{
	tb_diagnostics *list = g_new0(tb_diagnostics, 1);
	list->source = source;
	list->faults = g_ptr_array_new_with_free_func(destroy_fault);
	list->same = g_hash_table_new(hash_fault, is_same_fault);
	return list;
}

void tb_diagnostics_destroy(tb_diagnostics *list)
{
	if (list == NULL)
		return;
	g_hash_table_unref(list->same);
	g_ptr_array_unref(list->faults);
	g_free(list);
}

void tb_diagnostics_set_sizes(tb_diagnostics *list, const char *const *names, unsigned count)
{
	list->size_names = names;
	list->size_count = count;
}

unsigned tb_diagnostics_count(const tb_diagnostics *list)
{
	return list->faults->len;
}

unsigned tb_diagnostics_count_errors(const tb_diagnostics *list)
{
	return list->errors;
}

static int compare_faults(gconstpointer a, gconstpointer b)
{
	const tb_fault *x = *(const tb_fault *const *)a;
	const tb_fault *y = *(const tb_fault *const *)b;
	const tb_diagnostic *p = &x->diagnostic, *q = &y->diagnostic;
	/* What has no place is about the pattern as a whole, and comes last. */
	if (p->has_place != q->has_place)
		return p->has_place ? -1 : 1;
	if (p->place.start != q->place.start)
		return p->place.start < q->place.start ? -1 : 1;
	if (p->severity != q->severity)
		return p->severity > q->severity ? -1 : 1;
	return x->order < y->order ? -1 : x->order > y->order;
}

void tb_diagnostics_sort(tb_diagnostics *list)
{
	if (!list->sorted)
		g_ptr_array_sort(list->faults, compare_faults);
	list->sorted = true;
}

const tb_diagnostic *tb_diagnostics_get(tb_diagnostics *list, unsigned i)
{
	tb_diagnostics_sort(list);
	return i < list->faults->len ? &((tb_fault *)list->faults->pdata[i])->diagnostic : NULL;
}

const tb_source *tb_diagnostics_get_source(const tb_diagnostics *list)
{
	return list->source;
}

/* Adds the sizes of a fault that is there already. False when the new one says something else. */
static bool merge(tb_fault *there, const tb_where *where, const char *message)
{
	tb_size_set told = 0;
	bool about_sizes = where->sizes != 0;
	for (tb_fault *fault = there; fault != NULL; fault = fault->next) {
		tb_diagnostic *d = &fault->diagnostic;
		if (strcmp(d->message, message) == 0) {
			d->sizes |= where->sizes;
			return true;
		}
		told |= d->sizes;
		about_sizes = about_sizes || d->sizes != 0;
	}
	/* The row worked again in the same size: the first time told it. */
	return !about_sizes || (where->sizes != 0 && (where->sizes & ~told) == 0);
}

void tb_diagnose(tb_diagnostics *list, tb_severity severity, const char *code,
	const tb_where *where, const char *message, const char *hint)
{
	static const tb_where nowhere;
	if (where == NULL)
		where = &nowhere;
	tb_fault probe = {.diagnostic = {.severity = severity,
						  .code = code,
						  .has_place = where->has_place,
						  .place = where->place,
						  .piece = (char *)where->piece,
						  .message = (char *)message}};
	if (!where->has_place)
		probe.diagnostic.place = (tb_span){0, 0};
	tb_fault *there = g_hash_table_lookup(list->same, &probe);
	if (there != NULL && merge(there, where, message))
		return;
	if (severity == TB_ERROR)
		list->errors++;
	if (list->faults->len >= TB_LIMIT_FAULTS) {
		list->beyond++;
		return;
	}
	tb_fault *fault = g_new0(tb_fault, 1);
	fault->diagnostic = probe.diagnostic;
	fault->diagnostic.row = where->row;
	fault->diagnostic.is_round = where->is_round;
	fault->diagnostic.sizes = where->sizes;
	fault->diagnostic.piece = g_strdup(where->piece);
	fault->diagnostic.message = g_strdup(message);
	fault->diagnostic.hint = g_strdup(hint);
	fault->order = list->faults->len;
	g_ptr_array_add(list->faults, fault);
	list->sorted = false;
	if (there != NULL) {
		fault->next = there->next;
		there->next = fault;
	} else {
		g_hash_table_add(list->same, fault);
	}
}

void tb_diagnose_format(tb_diagnostics *list, tb_severity severity, const char *code,
	const tb_where *where, const char *hint, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	g_autofree char *message = g_strdup_vprintf(format, arguments);
	va_end(arguments);
	tb_diagnose(list, severity, code, where, message, hint);
}
