/* Which stitch a name means. */
#include "notation/build.h"

#include "stitches/stitch.h"

static const tb_stitch *find_posted(const tb_builder *b, const tb_stitch *base, bool front)
{
	return tb_library_post(b->pattern->library, base, front ? TB_POST_FRONT : TB_POST_BACK);
}

static const tb_stitch *find_together(const tb_builder *b, const tb_stitch *base, unsigned n)
{
	return n < 2 ? base : tb_library_together(b->pattern->library, base, n);
}

static const tb_stitch *find_family(
	const tb_builder *b, const tb_stitch *base, unsigned n, tb_symbol form)
{
	return tb_library_in_one(b->pattern->library, form == TB_SYMBOL_bobble ? TB_FAMILY_FORM_BOBBLE :
		form == TB_SYMBOL_popcorn ? TB_FAMILY_FORM_POPCORN : form == TB_SYMBOL_puff ?
		TB_FAMILY_FORM_PUFF : TB_FAMILY_FORM_CLUSTER, base, n);
}

/* Which of those that are made of several legs in one place STITCH is; TB_SYMBOL_none for others. */
static tb_symbol form_of(const tb_builder *b, const tb_stitch *stitch)
{
	static const tb_symbol forms[] = {TB_SYMBOL_bobble, TB_SYMBOL_popcorn, TB_SYMBOL_puff,
		TB_SYMBOL_cluster};
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		if (tb_vocabulary_stitch(b->vocabulary, forms[i]) == stitch)
			return forms[i];
	}
	return TB_SYMBOL_none;
}

/*
 * STITCH, which VALUE names, or what the pattern's own words make of it where that name leaves open how
 * many legs it has: "Bobble: 3 dc together in one st".
 */
static const tb_stitch *find_defined(tb_builder *b, const tb_value *value, const tb_stitch *stitch)
{
	const tb_lattice *l = b->lattice;
	if (stitch == NULL || l == NULL || value->to <= value->from || value->to > l->count)
		return stitch;
	guint32 from = l->start[value->from];
	g_autofree char *term = g_strndup(l->text->chars + from, l->stop[value->to - 1] - from);
	const tb_defined *defined = tb_defined_is_open(b->pattern->library, stitch, term) ?
		tb_defined_find(b->pattern, stitch) : NULL;
	if (defined == NULL)
		return stitch;
	if (defined->stitch != NULL && !defined->unclear)
		return defined->stitch;
	for (guint i = 0; i < b->loose->len; i++) {
		if (g_array_index(b->loose, tb_loose, i).stitch == stitch)
			return stitch;
	}
	tb_loose loose = {stitch, defined, tb_build_span(b, value->from, value->to)};
	g_array_append_val(b->loose, loose);
	return stitch;
}

/* Whether the legs of a stitch of this FORM are closed together. */
static bool is_closed(tb_symbol form)
{
	return form == TB_SYMBOL_bobble || form == TB_SYMBOL_popcorn || form == TB_SYMBOL_puff ||
		form == TB_SYMBOL_cluster;
}

/* "2 dc, ch 2, 2 dc in next st to widen": whether the pattern tells of an increase that is more than so many stitches. */
static bool is_told_increase(const tb_builder *b)
{
	const tb_own *own = b->named[TB_SYMBOL_inc];
	return own != NULL && own->acts.count > 1;
}

bool tb_build_is_increase(const tb_builder *b, const tb_value *stitch)
{
	return tb_value_is_symbol(tb_value_get(stitch, TB_SLOT_name), TB_SYMBOL_inc) &&
		(!is_told_increase(b) || tb_build_has(stitch, TB_SLOT_of));
}

const tb_stitch *tb_build_stitch(tb_builder *b, const tb_value *value, const tb_own **own)
{
	const tb_library *library = b->pattern->library;
	if (own != NULL)
		*own = NULL;
	if (tb_value_is_symbol(value, TB_SYMBOL_same) || value == NULL)
		return value != NULL && b->plain_at != NULL ? b->plain_at[value->from] : b->plain;
	/* its name alone, or with what is said of it */
	const tb_value *name = value->type == TB_VALUE_NODE ? tb_value_get(value, TB_SLOT_name) : value;
	const tb_value *post = tb_value_get(value, TB_SLOT_post);
	const tb_value *tog = tb_value_get(value, TB_SLOT_tog);
	const tb_value *legs = tb_value_get(value, TB_SLOT_legs);
	const tb_stitch *plain = b->plain_at != NULL ? b->plain_at[value->from] : b->plain;
	if (name == NULL)
		return NULL;
	if (name->type == TB_VALUE_OWN) {
		const tb_own *defined = name->own;
		if (own != NULL)
			*own = defined;
		return defined->stitch;
	}
	const tb_stitch *stitch = name->type == TB_VALUE_STITCH ? name->stitch : NULL;
	const tb_value *of = tb_value_get(value, TB_SLOT_of);
	const tb_stitch *base = of != NULL && of->type == TB_VALUE_STITCH ? of->stitch : NULL;
	if (name->type == TB_VALUE_SYMBOL) {
		plain = base != NULL ? base : plain; /* "hdc inc" */
		switch (name->symbol) {
		case TB_SYMBOL_inc:
			if (!is_told_increase(b) || base != NULL)
				return plain;
			break;
		case TB_SYMBOL_dec:
			return find_together(b, plain, tb_build_figure(tog, 2));
		case TB_SYMBOL_bobble:
		case TB_SYMBOL_popcorn:
		case TB_SYMBOL_puff:
		case TB_SYMBOL_cluster:
			if (legs == NULL)
				stitch = tb_library_find(library, b->lattice == NULL ? "" :
					name->symbol == TB_SYMBOL_bobble ? "bobble" :
					name->symbol == TB_SYMBOL_popcorn ? "popcorn" :
					name->symbol == TB_SYMBOL_puff ? "puff" : "cl");
			break;
		case TB_SYMBOL_withbead:
			return base != NULL ? tb_library_beaded(library, base) : NULL;
		case TB_SYMBOL_sc:
			/* told by its loops, in no terms */
			stitch = tb_library_find(library, "sc");
			break;
		case TB_SYMBOL_rsc:
			/* "working from left to right, sc in each st" */
			stitch = tb_library_find(library, "rsc");
			stitch = of == NULL || base == stitch || base == tb_library_find(library, "sc") ? stitch : NULL;
			break;
		case TB_SYMBOL_picot:
			/* "picot of 5 ch" */
			stitch = tb_build_has(value, TB_SLOT_n) ? tb_library_picot(b->pattern->library, tb_build_figure(tb_value_get(value, TB_SLOT_n), 0)) :
				tb_library_find(library, "picot");
			break;
		default:
			break;
		}
		const tb_own *named = b->named[name->symbol];
		if (stitch == NULL && legs == NULL && named != NULL && named->stitch != NULL)
			stitch = named->stitch;
		else if (stitch == NULL && legs == NULL && own != NULL)
			*own = named;
	}
	if (legs != NULL) {
		tb_symbol form = name->type == TB_VALUE_SYMBOL ? (tb_symbol)name->symbol :
			name->type == TB_VALUE_STITCH ? form_of(b, name->stitch) : TB_SYMBOL_none;
		/* the stitches of a "5-dc shell" are not closed together; "dc bobble" has as many as a bobble mostly has */
		unsigned usual = form == TB_SYMBOL_cluster || form == TB_SYMBOL_puff ? 3 : 5;
		unsigned many = tb_value_is_symbol(legs, TB_SYMBOL_usual) ? usual : tb_build_figure(legs, 1);
		return base != NULL && is_closed(form) ? find_family(b, base, many, form) : NULL;
	}
	if (stitch == NULL)
		return NULL;
	if (tog == NULL && post == NULL)
		stitch = find_defined(b, value, stitch);
	if (tog != NULL)
		stitch = find_together(b, stitch, tb_build_figure(tog, 2));
	if (stitch != NULL && post != NULL)
		stitch = find_posted(b, stitch, tb_value_is_symbol(post, TB_SYMBOL_fp));
	if (stitch != NULL && tb_value_get(value, TB_SLOT_spike) != NULL) {
		const tb_stitch *spike =
			tb_library_variant(b->pattern->library, stitch, TB_VARIANT_SPIKE);
		return spike != NULL ? spike : stitch;
	}
	return stitch;
}
