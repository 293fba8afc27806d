/*
 * The faults of a piece, gathered over its sizes before they are told.
 *
 * A row that does not come out in five sizes has one cause and is one fault, though the numbers in
 * it differ. They are then said as the trade says them: one figure a size, the first outside the
 * bracket. Where more than the figures differs, the hint is told size by size.
 */
#include "hands/gather.h"

#include <string.h>

typedef struct {
	tb_severity severity;
	const char *code;
	tb_span span;
	guint32 row;
	bool is_round;
	unsigned count;
	unsigned sizes[TB_MAX_SIZES];
	char *messages[TB_MAX_SIZES], *hints[TB_MAX_SIZES];
} gathered;

struct tb_gather {
	const tb_pattern *pattern;
	const char *piece;
	GArray *faults; /* gathered */
};

tb_gather *tb_gather_create(const tb_pattern *pattern, const char *piece)
{
	tb_gather *gather = g_new0(tb_gather, 1);
	gather->pattern = pattern;
	gather->piece = piece;
	gather->faults = g_array_new(FALSE, FALSE, sizeof(gathered));
	return gather;
}

static gathered *find(tb_gather *gather, tb_severity severity, const char *code, tb_span span)
{
	for (guint i = 0; i < gather->faults->len; i++) {
		gathered *fault = &g_array_index(gather->faults, gathered, i);
		if (fault->severity == severity && strcmp(fault->code, code) == 0 &&
			fault->span.start == span.start && fault->span.end == span.end)
			return fault;
	}
	gathered fault = {.severity = severity, .code = code, .span = span};
	g_array_append_val(gather->faults, fault);
	return &g_array_index(gather->faults, gathered, gather->faults->len - 1);
}

void tb_gather_add(tb_gather *gather, unsigned size, guint32 row, bool is_round,
	tb_severity severity, const char *code, tb_span span, const char *message, const char *hint)
{
	gathered *fault = find(gather, severity, code, span);
	/* a row worked again in the same size: the first time told it */
	if (fault->count == TB_MAX_SIZES ||
		(fault->count > 0 && fault->sizes[fault->count - 1] == size))
		return;
	if (fault->count == 0) {
		fault->row = row;
		fault->is_round = is_round;
	}
	fault->sizes[fault->count] = size;
	fault->messages[fault->count] = g_strdup(message);
	fault->hints[fault->count++] = g_strdup(hint);
}

/* A text in pieces: figures, words, and everything else a byte each. */
static GPtrArray *split(const char *text)
{
	GPtrArray *parts = g_ptr_array_new_with_free_func(g_free);
	for (const char *at = text; *at != '\0';) {
		size_t length = 1;
		if (g_ascii_isdigit(*at))
			length = strspn(at, "0123456789");
		else if (g_ascii_isalpha(*at))
			while (g_ascii_isalnum(at[length]))
				length++;
		g_ptr_array_add(parts, g_strndup(at, length));
		at += length;
	}
	return parts;
}

/* Words that go with a number: the plural is right for both. NULL when WORD is none of them. */
static const char *plural_of(const char *word)
{
	static const char *const pairs[][2] = {
		{"st", "sts"}, {"is", "are"}, {"was", "were"}, {"sp", "sps"}, {"time", "times"}};
	for (size_t i = 0; i < G_N_ELEMENTS(pairs); i++) {
		if (strcmp(word, pairs[i][0]) == 0 || strcmp(word, pairs[i][1]) == 0)
			return pairs[i][1];
	}
	return NULL;
}

/* One piece of all texts, as one; false when they do not go together. */
static bool weave_part(GString *out, GPtrArray *const *texts, unsigned count, guint part)
{
	const char *first = texts[0]->pdata[part];
	bool same = true, figures = true;
	for (unsigned i = 0; i < count; i++) {
		same = same && strcmp(texts[i]->pdata[part], first) == 0;
		figures = figures && g_ascii_isdigit(*(const char *)texts[i]->pdata[part]);
	}
	const char *plural = same ? first : plural_of(first);
	for (unsigned i = 1; i < count && !same && !figures; i++) {
		if (plural == NULL || g_strcmp0(plural_of(texts[i]->pdata[part]), plural) != 0)
			return false;
	}
	g_string_append(out, same || figures ? first : plural);
	for (unsigned i = 1; i < count && figures && !same; i++)
		g_string_append_printf(out, i == 1 ? " (%s" : ", %s", (const char *)texts[i]->pdata[part]);
	g_string_append(out, figures && !same ? ")" : "");
	return true;
}

/* TEXTS as one, differing figures in brackets; NULL when more than that differs. Owned. */
static char *weave(char *const *texts, unsigned count)
{
	GPtrArray *parts[TB_MAX_SIZES];
	g_autoptr(GString) out = g_string_new(NULL);
	unsigned there = 0;
	for (; there < count && texts[there] != NULL; there++)
		parts[there] = split(texts[there]);
	bool good = there == count;
	for (unsigned i = 1; i < there; i++)
		good = good && parts[i]->len == parts[0]->len;
	for (guint part = 0; good && part < parts[0]->len; part++)
		good = weave_part(out, parts, count, part);
	for (unsigned i = 0; i < there; i++)
		g_ptr_array_unref(parts[i]);
	return good ? g_strdup(out->str) : NULL;
}

/* "S: … M: …", for hints of which more than the figures differ. Owned, or NULL. */
static char *list_hints(const tb_gather *gather, const gathered *fault)
{
	g_autoptr(GString) out = g_string_new(NULL);
	for (unsigned i = 0; i < fault->count; i++) {
		if (fault->hints[i] == NULL)
			continue;
		g_string_append_printf(out, "%s%s: %s", out->len > 0 ? " " : "",
			tb_pattern_get_size(gather->pattern, fault->sizes[i]), fault->hints[i]);
	}
	return out->len > 0 ? g_strdup(out->str) : NULL;
}

/* Faults of the text, not of its numbers: naming sizes would send the reader looking there. */
static bool is_about_sizes(const char *code)
{
	static const char *const others[] = {"row-number", "row-missing", "measure-no-gauge",
		"no-foundation", "piece-missing", "not-worked", "other-side", "not-checked", "side-turn",
		"turning-chain-missing"};
	for (size_t i = 0; i < G_N_ELEMENTS(others); i++) {
		if (strcmp(code, others[i]) == 0)
			return false;
	}
	return true;
}

static void deliver(const tb_gather *gather, const gathered *fault, unsigned begin, unsigned count,
	const char *message, const char *hint, tb_diagnostics *diagnostics)
{
	tb_where where = {
		.has_place = fault->span.end > 0,
		.place = fault->span,
		.piece = gather->piece,
		.row = fault->row,
		.is_round = fault->is_round,
	};
	for (unsigned i = begin; i < begin + count; i++) {
		if (*tb_pattern_get_size(gather->pattern, fault->sizes[i]) != '\0' &&
			(is_about_sizes(fault->code) || fault->count < tb_pattern_count_sizes(gather->pattern)))
			where.sizes |= (tb_size_set)1 << fault->sizes[i];
	}
	tb_diagnose(diagnostics, fault->severity, fault->code, &where, message, hint);
}

static void tell(const tb_gather *gather, gathered *fault, tb_diagnostics *diagnostics)
{
	g_autofree char *message = weave(fault->messages, fault->count);
	if (message == NULL) {
		for (unsigned i = 0; i < fault->count; i++)
			deliver(gather, fault, i, 1, fault->messages[i], fault->hints[i], diagnostics);
		return;
	}
	g_autofree char *hint = weave(fault->hints, fault->count);
	if (hint == NULL)
		hint = fault->count == 1 ? g_strdup(fault->hints[0]) : list_hints(gather, fault);
	deliver(gather, fault, 0, fault->count, message, hint, diagnostics);
}

/* What one size's count leaves out and another's has: one of them is wrong. */
static const struct {
	const char *without, *with, *told, *message, *hint;
} mixtures[] = {
	{TB_GATHER_WITHOUT_CHAIN, TB_GATHER_WITH_CHAIN, "count-without-chain",
		"this count leaves out the first chain, and that of another size has it",
		"Count the first chain in every size, or in none."},
	/* a warning that the size has anyway */
	{"count-without-chain", TB_GATHER_WITH_CHAIN, "count-without-chain",
		"this count leaves out the first chain, and that of another size has it",
		"Count the first chain in every size, or in none."},
	{TB_GATHER_WITHOUT_SPACES, TB_GATHER_WITH_SPACES, "count-without-chain",
		"this count leaves out the chains of the row, and that of another size has them",
		"Count the chains in every size, or in none."},
};

/* "(32 (34, 36) dc)" has the first chain in some sizes and leaves it out in those of FAULT: makes it an error. */
static void tell_mixed(const tb_gather *gather, gathered *fault)
{
	for (size_t k = 0; k < G_N_ELEMENTS(mixtures); k++) {
		bool mixed = false;
		for (guint i = 0; i < gather->faults->len && strcmp(fault->code, mixtures[k].without) == 0; i++) {
			const gathered *other = &g_array_index(gather->faults, gathered, i);
			mixed = mixed || (strcmp(other->code, mixtures[k].with) == 0 && other->span.start == fault->span.start &&
				other->span.end == fault->span.end);
		}
		if (!mixed)
			continue;
		fault->severity = TB_ERROR;
		fault->code = mixtures[k].told;
		for (unsigned i = 0; i < fault->count; i++) {
			g_free(fault->messages[i]);
			g_free(fault->hints[i]);
			fault->messages[i] = g_strdup(mixtures[k].message);
			fault->hints[i] = g_strdup(mixtures[k].hint);
		}
		return;
	}
}

void tb_gather_tell(tb_gather *gather, tb_diagnostics *diagnostics)
{
	for (guint i = 0; i < gather->faults->len; i++) {
		gathered *fault = &g_array_index(gather->faults, gathered, i);
		tell_mixed(gather, fault);
		/* one without a message is only held against others */
		if (fault->messages[0] != NULL)
			tell(gather, fault, diagnostics);
		for (unsigned j = 0; j < fault->count; j++) {
			g_free(fault->messages[j]);
			g_free(fault->hints[j]);
		}
	}
	g_array_free(gather->faults, TRUE);
	g_free(gather);
}
