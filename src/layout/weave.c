/* Reads the fabric's rows as nodes, runs of chains, legs, and what is set beside them. */
#include "layout/weave.h"

#include <math.h>

/* Fewer stitches than this in one chain make no ring. */
#define LEAST_IN_RING 5
/* So many chains make a row longer. */
#define LEAST_CHAINED_ON 3
/* So many chains, with as many stitches worked back along them, are a spur. */
#define LEAST_SPUR 2
/* A chain of the ring, and the least ring's radius, in columns. */
#define RING_CHAIN 0.72
#define LEAST_RING 0.5

typedef struct {
	tb_weave *w;
	tb_setting *s;
	const tb_fabric *fabric;
	guint32 *node_of; /* by made: its node, or TB_NONE */
	guint32 *run_of;  /* by made: its run, or TB_NONE */
	bool *trodden;    /* by made: a chain that a stitch goes into, not under */
	bool *spur;       /* by made: of chains that stand out of their row, or worked back along them */
	guint32 spur_first; /* the first chain of the spur that was read last */
	GHashTable *gaps; /* the gap before a node -> its run + 1 */
	gint32 hidden_from, hidden_to; /* columns that are folded away */
	GHashTable *by_column; /* row and column -> what was made there first, + 1 */
} reader;

/* ---- the fold: of many motifs few are drawn, and what stood on a column folded away stands on its image ---- */

/* What was made first on a column of a row, or TB_NONE. */
static guint32 first_on(const reader *r, guint32 row, gint32 column)
{
	gint64 key = (gint64)row << 32 | (guint32)column;
	guint found = GPOINTER_TO_UINT(g_hash_table_lookup(r->by_column, &key));
	return found > 0 ? found - 1 : TB_NONE;
}

static bool is_folded(const reader *r)
{
	return r->hidden_from < r->hidden_to;
}

static bool is_hidden(const reader *r, guint32 m)
{
	gint32 column = is_folded(r) ? r->s->column[m] : G_MAXINT32;
	return column != G_MAXINT32 && column >= r->hidden_from && column < r->hidden_to;
}

/* BASE, or its image beside the fold, on the side that stitch M stands on. */
static guint32 image_of(const reader *r, guint32 m, guint32 base)
{
	if (!is_hidden(r, base))
		return base;
	gint32 away = r->hidden_to - r->hidden_from, column = r->s->column[base];
	column += r->s->column[m] != G_MAXINT32 && r->s->column[m] >= r->hidden_to ? -away : away;
	guint32 row = r->fabric->made[base].row, own = first_on(r, row, r->s->column[base]), first = first_on(r, row, column);
	if (own == TB_NONE || first == TB_NONE || base < own)
		return TB_NONE;
	/* Of several on one column, the same of them. */
	guint32 image = first + (base - own);
	const tb_made_row *in = &r->fabric->rows[row];
	return image < in->first + in->count && r->s->column[image] == column ? image : TB_NONE;
}

static bool has_image(const reader *r, guint32 m, guint32 base)
{
	return r->fabric->made[base].row < r->s->lowest || image_of(r, m, base) != TB_NONE;
}

/* Whether all that is drawn then stands on something that is drawn. */
static bool is_fold_whole(const reader *r)
{
	for (guint32 m = 0; m < r->fabric->made_count && r->fabric->made[m].row <= r->s->last; m++) {
		const tb_made *made = &r->fabric->made[m];
		if (made->row <= r->s->lowest || is_hidden(r, m))
			continue;
		if (made->behind != TB_NONE && !has_image(r, m, made->behind))
			return false;
		for (unsigned b = 0; b < made->base_count; b++)
			if (!has_image(r, m, tb_fabric_base(r->fabric, made, b)))
				return false;
	}
	return true;
}

static void find_fold(reader *r)
{
	const tb_chart *chart = r->s->chart;
	const tb_motif *motif = &chart->motif;
	if (!chart->folded || r->s->column == NULL)
		return;
	guint32 drawn = tb_chart_repeats_drawn(chart), before = tb_chart_repeats_before(chart);
	if (motif->times[chart->size] <= drawn)
		return;
	r->hidden_from = (gint32)(motif->near_edge + before * motif->width);
	r->hidden_to = (gint32)(r->s->width - motif->far_edge - (drawn - before) * motif->width);
	r->by_column = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
	for (guint32 m = 0; m < r->fabric->made_count; m++) {
		const tb_made *made = &r->fabric->made[m];
		gint32 column = r->s->column[m];
		gint64 key = (gint64)made->row << 32 | (guint32)column;
		if (column != G_MAXINT32 && made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN) &&
			first_on(r, made->row, column) == TB_NONE)
			g_hash_table_insert(r->by_column, g_memdup2(&key, sizeof key), GUINT_TO_POINTER(m + 1));
	}
	r->w->unfolded = !is_fold_whole(r);
	if (r->w->unfolded)
		r->hidden_from = r->hidden_to;
}

/* ---- reading ---- */

guint32 tb_weave_base_row(const tb_weave *w, const tb_weave_leg *leg)
{
	return leg->kind == TB_LEG_NODE ? tb_weave_node_at(w, leg->base)->row : tb_weave_run_at(w, leg->base)->row;
}

static double place_in_row(const tb_weave *w, guint32 node)
{
	return node - tb_weave_row_at(w, tb_weave_node_at(w, node)->row)->first;
}

double tb_weave_base_place(const tb_weave *w, const tb_weave_leg *leg)
{
	if (leg->kind == TB_LEG_NODE)
		return place_in_row(w, leg->base);
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	double before = place_in_row(w, run->before);
	if (run->after == TB_NONE)
		return before;
	double after = place_in_row(w, run->after);
	/* Past the seam the first stitch comes again. */
	if (tb_weave_row_at(w, run->row)->closed && after < before)
		after += tb_weave_row_at(w, run->row)->count;
	return (before + after) / 2;
}

/* Like stitches have like tokens; a turning chain is like the stitch it stands for. */
static guint32 token_of(const tb_setting *s, const tb_made *made)
{
	if (made->flags & TB_MADE_TURNING)
		return (guint32)made->chains * 16;
	const tb_stitch *stitch = tb_setting_stitch(s, made);
	bool plain = stitch->post == TB_POST_NONE && stitch->meet == TB_MEET_NOWHERE;
	return plain ? (guint32)lround(stitch->height * 16) : 2000u + made->stitch;
}

static bool is_node(const tb_made *made)
{
	return made->row == 0 || (made->flags & TB_MADE_COUNTED && !(made->flags & TB_MADE_CHAIN));
}

/* Whether all of row 1 comes out of one place in the middle. */
static bool comes_out_of_ring(const reader *r)
{
	const tb_made_row *row = &r->fabric->rows[1];
	guint32 base = TB_NONE, count = 0;
	bool space = true;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &r->fabric->made[m];
		if (!is_node(made) || made->base_count == 0)
			continue;
		guint32 own = tb_fabric_base(r->fabric, made, 0);
		if (made->base_count > 1 || r->fabric->made[own].row != 0 || (base != TB_NONE && own != base))
			return false;
		base = own;
		space = space && made->flags & TB_MADE_IN_SPACE;
		count++;
	}
	guint32 ring = r->fabric->rows[0].count;
	return count > 0 && ring <= TB_WEAVE_MOST_RING && (ring == 0 || space || count >= LEAST_IN_RING);
}

/* Magic rings have no chains that a stitch could go into. */
static bool has_no_foundation(const reader *r)
{
	return r->fabric->rows[0].count == 0;
}

static void find_middle(reader *r)
{
	tb_weave *w = r->w;
	if (r->s->lowest > 0)
		return;
	w->ring = has_no_foundation(r) || comes_out_of_ring(r);
	w->ring_radius = w->ring ? fmax(LEAST_RING, r->fabric->rows[0].count * RING_CHAIN / (2 * G_PI)) : 0;
	if (!w->rounds || w->ring)
		return;
	/* Chains worked into from both sides are an oval's spine. */
	const tb_made_row *row = &r->fabric->rows[1];
	g_autofree guint8 *times = g_new0(guint8, r->fabric->rows[0].count + 1);
	guint32 twice = 0, used = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &r->fabric->made[m];
		guint32 base = made->base_count == 1 && is_node(made) ? made->base : TB_NONE;
		if (base == TB_NONE || r->fabric->made[base].row != 0)
			continue;
		guint8 *n = &times[base - r->fabric->rows[0].first];
		used += *n == 0;
		twice += *n == 1;
		*n = (guint8)MIN(*n + 1, 9);
	}
	w->oval = 2 * twice > used;
}

static guint32 add_node(reader *r, guint32 made, guint32 row)
{
	tb_weave *w = r->w;
	tb_weave_node node = {.made = made, .row = row, .next = TB_NONE, .before = TB_NONE, .group = TB_NONE,
		.first_leg = w->legs->len, .stretch = 1, .head_room = 1};
	if (made != TB_NONE) {
		node.token = token_of(r->s, &r->fabric->made[made]);
		if (row > 0 || r->s->lowest > 0)
			node.height = tb_setting_height(r->s, &r->fabric->made[made]) * TB_WEAVE_CHAIN;
		r->node_of[made] = w->nodes->len;
	}
	g_array_append_val(w->nodes, node);
	tb_weave_row_at(w, row)->count++;
	return w->nodes->len - 1;
}

static void add_leg(reader *r, guint32 node, tb_leg_kind kind, guint32 base, double along, double height)
{
	tb_weave_leg leg = {.node = node, .base = base, .kind = kind, .along = along, .drawn = TB_NONE, .height = height};
	g_array_append_val(r->w->legs, leg);
	tb_weave_node_at(r->w, node)->leg_count++;
}

/* What stands on a place of an earlier row, row by row up to the one below ROW: the node, or TB_NONE. */
static guint32 climb(const reader *r, guint32 node, guint32 row)
{
	const tb_weave *w = r->w;
	while (node != TB_NONE && tb_weave_node_at(w, node)->row + 1 < row) {
		const tb_weave_row *next = tb_weave_row_at(w, tb_weave_node_at(w, node)->row + 1);
		guint32 found = TB_NONE;
		for (guint32 i = next->first; i < next->first + next->count && found == TB_NONE; i++) {
			const tb_weave_node *above = tb_weave_node_at(w, i);
			for (guint32 k = 0; k < above->leg_count; k++) {
				const tb_weave_leg *leg = tb_weave_leg_at(w, above->first_leg + k);
				if (leg->kind == TB_LEG_NODE && leg->base == node)
					found = i;
			}
		}
		node = found;
	}
	return node;
}

/* The gap before the later of two neighbours. */
static guint32 find_gap(reader *r, guint32 a, guint32 b)
{
	guint32 row = tb_weave_node_at(r->w, a)->row;
	const tb_weave_row *range = tb_weave_row_at(r->w, row);
	guint32 low = MIN(a, b), high = MAX(a, b);
	bool seam = high - low > 1 && low == range->first && high + 1 == range->first + range->count;
	guint32 before = seam ? high : low, after = seam ? low : high;
	guint known = GPOINTER_TO_UINT(g_hash_table_lookup(r->gaps, GUINT_TO_POINTER(before)));
	if (known != 0)
		return known - 1;
	tb_weave_run run = {.row = row, .before = before, .after = after, .first = r->w->chains->len};
	g_array_append_val(r->w->runs, run);
	g_hash_table_insert(r->gaps, GUINT_TO_POINTER(before), GUINT_TO_POINTER(r->w->runs->len));
	return r->w->runs->len - 1;
}

static void stand_on(reader *r, guint32 node, guint32 base, bool in_space)
{
	tb_weave *w = r->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	double height = own->height;
	base = image_of(r, own->made, base);
	if (base == TB_NONE)
		return;
	if (r->run_of[base] != TB_NONE) {
		const tb_weave_run *run = tb_weave_run_at(w, r->run_of[base]);
		double along = 0.5;
		for (guint32 i = 0; i < run->count && !in_space; i++)
			if (g_array_index(w->chains, guint32, run->first + i) == base)
				along = (i + 0.5) / run->count;
		/* Chains that hang free are no space: what stands there stands where they begin. */
		if (run->after != TB_NONE)
			add_leg(r, node, TB_LEG_RUN, r->run_of[base], along, height + TB_WEAVE_OFF_ARC);
		else
			add_leg(r, node, TB_LEG_NODE, run->before, 0.5, height);
		return;
	}
	guint32 on = r->node_of[base];
	if (on == TB_NONE) {
		/* A turning chain that does not count: the stitch beside it. A picot or a join: the stitch that it stands on. */
		guint32 row = r->fabric->made[base].row;
		if (row < r->s->lowest || row >= own->row + r->s->lowest)
			return;
		const tb_weave_row *beside = tb_weave_row_at(w, row - r->s->lowest);
		if (beside->count == 0)
			return;
		for (guint32 m = base; m > r->fabric->rows[row].first && on == TB_NONE; m--)
			on = r->node_of[m - 1];
		if (on == TB_NONE)
			on = beside->first;
		else if (tb_setting_stitch(r->s, &r->fabric->made[base])->takes == 0)
			height += tb_setting_height(r->s, &r->fabric->made[base]) * TB_WEAVE_CHAIN;
	}
	guint32 row = tb_weave_node_at(w, on)->row;
	if (row + 1 < own->row && tb_setting_stitch(r->s, &r->fabric->made[own->made])->takes > 0) {
		guint32 above = climb(r, on, own->row);
		if (above != TB_NONE)
			on = above;
		else
			/* Rows that lie beside are none of those between. */
			for (guint32 k = r->fabric->rows[own->row + r->s->lowest].stands; k > row + r->s->lowest; k = r->fabric->rows[k].stands)
				height += r->fabric->rows[k].height * TB_WEAVE_CHAIN;
	}
	add_leg(r, node, TB_LEG_NODE, on, 0.5, height);
}

/* A turning chain that names no place climbs from where the row below ended, or where the ring or the chain begins. */
static void stand_turning(reader *r, guint32 node, guint32 corner)
{
	tb_weave *w = r->w;
	tb_weave_node *own = tb_weave_node_at(w, node);
	if (own->row == 1 && w->ring) {
		add_leg(r, node, TB_LEG_RING, 0, 0.5, own->height + w->ring_radius);
		return;
	}
	const tb_weave_row *below = tb_weave_row_at(w, own->row - 1);
	/* On a spine it stands on the end where the round begins. */
	const tb_made *next = own->made + 1 < r->fabric->made_count ? &r->fabric->made[own->made + 1] : NULL;
	guint32 beside = own->row == 1 && w->oval && next != NULL && next->base_count == 1 ? r->node_of[next->base] : TB_NONE;
	if (beside != TB_NONE)
		add_leg(r, node, TB_LEG_NODE, beside, 0.5, own->height);
	else if (own->row == 1 && corner != TB_NONE)
		add_leg(r, node, TB_LEG_NODE, corner, 0.5, own->height);
	else if (below->count > 0 && (w->rounds || below->sign == tb_weave_row_at(w, own->row)->sign))
		add_leg(r, node, TB_LEG_NODE, below->first, 0.5, own->height);
	else if (below->count > 0)
		add_leg(r, node, TB_LEG_NODE, below->first + below->count - 1, 0.5, own->height);
}

static void stand_up(reader *r, guint32 node, guint32 corner)
{
	tb_weave *w = r->w;
	guint32 m = tb_weave_node_at(w, node)->made;
	const tb_made *made = &r->fabric->made[m];
	tb_weave_node_at(w, node)->first_leg = w->legs->len;
	if (made->base_count == 0) {
		if (made->flags & TB_MADE_TURNING)
			stand_turning(r, node, corner);
		else if (made->behind != TB_NONE)
			stand_on(r, node, made->behind, false);
		else if (tb_weave_node_at(w, node)->row == 1 && w->ring)
			add_leg(r, node, TB_LEG_RING, 0, 0.5, tb_weave_node_at(w, node)->height + w->ring_radius);
		return;
	}
	guint32 first = tb_fabric_base(r->fabric, made, 0);
	if (r->fabric->made[first].row == made->row)
		return; /* it closes its own round */
	if (tb_weave_node_at(w, node)->row == 1 && w->ring && r->s->lowest == 0) {
		add_leg(r, node, TB_LEG_RING, 0, 0.5, tb_weave_node_at(w, node)->height + w->ring_radius);
		return;
	}
	if (made->behind != TB_NONE && r->fabric->made[made->behind].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)) {
		stand_on(r, node, made->behind, false);
		return;
	}
	if (made->flags & TB_MADE_IN_SPACE && made->base_count == 2 && tb_setting_stitch(r->s, made)->takes == 1) {
		guint32 second = image_of(r, m, tb_fabric_base(r->fabric, made, 1));
		guint32 one = image_of(r, m, first);
		guint32 a = one != TB_NONE ? r->node_of[one] : TB_NONE, b = second != TB_NONE ? r->node_of[second] : TB_NONE;
		if (a != TB_NONE && b != TB_NONE && a != b && tb_weave_node_at(w, a)->row == tb_weave_node_at(w, b)->row) {
			add_leg(r, node, TB_LEG_RUN, find_gap(r, a, b), 0.5, tb_weave_node_at(w, node)->height);
			return;
		}
	}
	for (unsigned b = 0; b < made->base_count; b++)
		stand_on(r, node, tb_fabric_base(r->fabric, made, b), made->flags & TB_MADE_IN_SPACE);
}

/* A turning chain of row 1 that has no chain of its own under it takes the foundation's corner. */
static bool has_bare_corner(const reader *r)
{
	const tb_made_row *row = &r->fabric->rows[1];
	for (guint32 m = row->first; m < row->first + row->count; m++)
		if (is_node(&r->fabric->made[m]))
			return r->fabric->made[m].flags & TB_MADE_TURNING && r->fabric->made[m].base_count == 0;
	return false;
}

static void read_foundation(reader *r)
{
	const tb_made_row *row = &r->fabric->rows[r->s->lowest];
	if (r->w->ring)
		return;
	guint32 last = TB_NONE;
	tb_weave_run *run = NULL;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &r->fabric->made[m];
		if (is_hidden(r, m))
			continue;
		if (is_node(made)) {
			last = add_node(r, m, 0);
			if (run != NULL)
				run->after = last;
			run = NULL;
		} else if (made->flags & TB_MADE_CHAIN && last != TB_NONE) {
			if (run == NULL) {
				tb_weave_run begun = {.before = last, .after = TB_NONE, .first = r->w->chains->len};
				g_array_append_val(r->w->runs, begun);
				run = tb_weave_run_at(r->w, r->w->runs->len - 1);
			}
			run->count++;
			r->run_of[m] = r->w->runs->len - 1;
			g_array_append_val(r->w->chains, m);
		}
	}
	if (run != NULL && r->w->rounds)
		run->after = tb_weave_row_at(r->w, 0)->first;
}

/* A slip stitch amid a round that chains are held down with, between petals: an end of spaces like any stitch. */
static bool holds_chains(const reader *r, guint32 m)
{
	const tb_made *made = &r->fabric->made[m];
	const tb_made_row *row = &r->fabric->rows[made->row];
	bool chains = m > row->first && tb_setting_is_chain(made - 1);
	return chains && !(made->flags & TB_MADE_TURNING) && tb_setting_stitch(r->s, made)->takes > 0 &&
		made->base_count > 0 && r->fabric->made[tb_fabric_base(r->fabric, made, 0)].row < made->row;
}

static void add_extra(reader *r, guint32 m, guint32 row, tb_extra_kind kind, guint32 node)
{
	tb_weave_extra extra = {.made = m, .row = row, .kind = kind, .node = node};
	const tb_weave_extra *before = r->w->extras->len > 0 ?
		&g_array_index(r->w->extras, tb_weave_extra, r->w->extras->len - 1) : NULL;
	if (kind == TB_EXTRA_PICOT && before != NULL && before->kind == kind && before->made + 1 == m)
		extra.stacked = before->stacked + 1;
	g_array_append_val(r->w->extras, extra);
	if (kind == TB_EXTRA_TURNING)
		tb_weave_row_at(r->w, row)->rises = true;
}

/* A slip stitch and its like: it leads on before the row begins, and closes it at the end. */
static tb_extra_kind extra_kind(const reader *r, guint32 m, bool begun)
{
	const tb_made *made = &r->fabric->made[m];
	const tb_stitch *stitch = tb_setting_stitch(r->s, made);
	if (made->flags & TB_MADE_TURNING)
		return TB_EXTRA_TURNING;
	if (stitch->takes == 0 || (made->base_count == 0 && begun && !tb_setting_is_join(r->s, made)))
		return TB_EXTRA_PICOT;
	if (!begun)
		return TB_EXTRA_TRAVEL;
	if (tb_setting_is_join(r->s, made))
		return TB_EXTRA_JOIN;
	return made->base_count > 0 && r->fabric->made[tb_fabric_base(r->fabric, made, 0)].row < made->row ?
		TB_EXTRA_TRAVEL : TB_EXTRA_PICOT;
}

static void find_trodden(reader *r)
{
	for (guint32 m = 0; m < r->fabric->made_count; m++) {
		const tb_made *made = &r->fabric->made[m];
		for (unsigned b = 0; b < made->base_count && !(made->flags & TB_MADE_IN_SPACE); b++) {
			guint32 base = tb_fabric_base(r->fabric, made, b);
			r->trodden[base] = r->trodden[base] || (tb_setting_is_chain(&r->fabric->made[base]) && r->fabric->made[base].row < made->row);
		}
	}
}

/* Whether M goes into a chain of its own row, made just before it with others; *CHAIN: that one. */
static bool goes_back(const reader *r, guint32 m, guint32 *chain)
{
	const tb_made *made = &r->fabric->made[m];
	if (made->base_count != 1 || made->row == 0 || made->flags & (TB_MADE_IN_SPACE | TB_MADE_TURNING) ||
		tb_setting_is_chain(made) || tb_setting_stitch(r->s, made)->takes == 0)
		return false;
	*chain = tb_fabric_base(r->fabric, made, 0);
	return *chain < m && r->fabric->made[*chain].row == made->row && tb_setting_is_chain(&r->fabric->made[*chain]);
}

/*
 * Spurs: several chains, and stitches worked back along them. What later rows are worked into is none: the row goes on
 * around it.
 */
static void find_spurs(reader *r)
{
	const tb_fabric *fabric = r->fabric;
	g_autofree bool *worked = g_new0(bool, fabric->made_count + 1);
	for (guint32 m = 0; m < fabric->made_count; m++)
		for (unsigned b = 0; b < fabric->made[m].base_count; b++)
			if (fabric->made[tb_fabric_base(fabric, &fabric->made[m], b)].row < fabric->made[m].row)
				worked[tb_fabric_base(fabric, &fabric->made[m], b)] = true;
	for (guint32 m = 0; m < fabric->made_count; m++) {
		guint32 first = m, end = m, chain = TB_NONE, back = 0;
		while (end < fabric->made_count && fabric->made[end].row == fabric->made[m].row && tb_setting_is_chain(&fabric->made[end]))
			end++;
		bool whole = true;
		guint32 chains = end - first;
		while (chains >= LEAST_SPUR && end < fabric->made_count && goes_back(r, end, &chain) && chain >= first && chain < first + chains) {
			end++;
			back++;
		}
		for (guint32 i = first; i < end; i++)
			whole = whole && !worked[i];
		for (guint32 i = first; i < end && whole && back >= LEAST_SPUR; i++)
			r->spur[i] = true;
		m = MAX(end, m + 1) - 1;
	}
}

/* Adds M, of a spur behind node LAST; those of a spur are made one behind another. */
static void add_spur(reader *r, guint32 m, guint32 row, guint32 last)
{
	const tb_made *made = &r->fabric->made[m];
	tb_weave_extra *before = r->w->extras->len > 0 ? &g_array_index(r->w->extras, tb_weave_extra, r->w->extras->len - 1) : NULL;
	bool follows = before != NULL && before->kind == TB_EXTRA_SPUR && before->made + 1 == m;
	bool is_chain = tb_setting_is_chain(made);
	guint32 chain = m;
	if (!is_chain)
		goes_back(r, m, &chain);
	else if (!follows || !tb_setting_is_chain(made - 1))
		r->spur_first = m;
	tb_weave_extra extra = {.made = m, .row = row, .kind = TB_EXTRA_SPUR, .node = last, .chain = chain - r->spur_first};
	if (!is_chain && follows && !tb_setting_is_chain(made - 1) && before->chain == extra.chain)
		extra.stacked = before->stacked + 1;
	g_array_append_val(r->w->extras, extra);
	if (is_chain || last == TB_NONE)
		return;
	tb_weave_node *node = tb_weave_node_at(r->w, last);
	node->spur_most = MAX(node->spur_most, extra.stacked + 1);
	node->spur = fmax(node->spur, TB_WEAVE_SPUR + tb_setting_height(r->s, made) * TB_WEAVE_CHAIN);
}

/*
 * Chains at an end of a row that the next is worked into one by one, as a foundation's: the row is as much longer. How
 * many from M on; 0 for none.
 */
static guint32 count_chained_on(const reader *r, guint32 m, bool begun)
{
	const tb_made_row *row = &r->fabric->rows[r->fabric->made[m].row];
	guint32 count = 0, trodden = 0, end = row->first + row->count;
	for (; m + count < end && tb_setting_is_chain(&r->fabric->made[m + count]); count++)
		trodden += r->trodden[m + count];
	bool at_end = true;
	for (guint32 i = m + count; i < end; i++)
		at_end = at_end && !is_node(&r->fabric->made[i]);
	return !r->w->rounds && (at_end || !begun) && count >= LEAST_CHAINED_ON && trodden * 3 >= count * 2 ? count : 0;
}

static void read_row(reader *r, guint32 number)
{
	tb_weave *w = r->w;
	const tb_made_row *row = &r->fabric->rows[number + r->s->lowest];
	guint32 last = TB_NONE, run = TB_NONE, chained_on = 0;
	bool begun = false, hidden = false;
	for (guint32 m = row->first; m < tb_setting_row_end(r->s, number + r->s->lowest); m++) {
		const tb_made *made = &r->fabric->made[m];
		/* What has no column of its own goes with the stitch before it. */
		if (is_node(made) || tb_setting_is_chain(made))
			hidden = is_hidden(r, m);
		if (hidden && !(made->flags & TB_MADE_TURNING && !begun))
			continue;
		if (r->spur[m]) {
			add_spur(r, m, number, last);
			begun = true;
			continue;
		}
		if (tb_setting_is_chain(made) && run == TB_NONE && chained_on == 0)
			chained_on = count_chained_on(r, m, begun);
		if (tb_setting_is_chain(made) && chained_on > 0) {
			double height = last != TB_NONE ? tb_weave_node_at(w, last)->height : row->height * TB_WEAVE_CHAIN;
			last = add_node(r, m, number);
			tb_weave_node_at(w, last)->height = height;
			chained_on--;
			begun = true;
		} else if (tb_setting_is_chain(made)) {
			if (run == TB_NONE) {
				/* Chains before the first stitch go out from where the row below ended. */
				guint32 from = last;
				const tb_weave_row *below = tb_weave_row_at(w, number - 1);
				if (from == TB_NONE && below->count > 0)
					from = w->rounds ? below->first : below->first + below->count - 1;
				if (from == TB_NONE) {
					add_extra(r, m, number, TB_EXTRA_PICOT, TB_NONE);
					continue;
				}
				tb_weave_run begun_run = {.row = number, .before = from, .after = TB_NONE, .first = w->chains->len};
				g_array_append_val(w->runs, begun_run);
				run = w->runs->len - 1;
			}
			tb_weave_run_at(w, run)->count++;
			r->run_of[m] = run;
			g_array_append_val(w->chains, m);
			begun = true;
		} else if (is_node(made) || (begun && holds_chains(r, m))) {
			last = add_node(r, m, number);
			if (run != TB_NONE)
				tb_weave_run_at(w, run)->after = last;
			run = TB_NONE;
			begun = true;
		} else {
			add_extra(r, m, number, extra_kind(r, m, begun), last);
		}
	}
	tb_weave_row *own = tb_weave_row_at(w, number);
	if (run != TB_NONE && w->rounds && own->count > 0)
		tb_weave_run_at(w, run)->after = own->first;
	/* Chains that a round which nothing joins begins with come from its own last stitch: there it began. */
	const tb_made *end = &r->fabric->made[row->first + row->count - 1];
	guint32 first_run = row->count > 0 ? r->run_of[row->first] : TB_NONE;
	if (w->rounds && first_run != TB_NONE && run == TB_NONE && own->count > 2 && r->node_of[end - r->fabric->made] != TB_NONE)
		tb_weave_run_at(w, first_run)->before = last;
}

static void begin_row(reader *r, guint32 number)
{
	tb_weave *w = r->w;
	const tb_made_row *made = &r->fabric->rows[number + r->s->lowest];
	tb_weave_row row = {.first = w->nodes->len, .sign = made->leftward ? -1 : 1, .made_row = number + r->s->lowest};
	if (w->rounds)
		row.sign = made->leftward == r->fabric->rows[MAX(r->s->first, 1)].leftward ? -1 : 1;
	if (w->rounds && number == 0)
		row.sign = -1;
	g_array_append_val(w->rows, row);
}

/* A round that no slip stitch closes runs on into the next. */
static bool is_spiral(const reader *r)
{
	for (guint32 k = MAX(r->s->lowest, 1); k <= r->s->last; k++) {
		const tb_made_row *row = &r->fabric->rows[k];
		for (guint32 m = row->first; m < row->first + row->count; m++)
			if (!(r->fabric->made[m].flags & TB_MADE_COUNTED))
				return false;
	}
	return r->s->last > 1;
}

tb_weave *tb_weave_new(tb_setting *s)
{
	tb_weave *w = g_new0(tb_weave, 1);
	w->s = s;
	w->rounds = tb_setting_is_around(s);
	const tb_made_row *highest = &s->fabric->rows[s->last];
	guint32 made = highest->first + highest->count - s->fabric->rows[s->lowest].first;
	w->nodes = g_array_sized_new(FALSE, TRUE, sizeof(tb_weave_node), made);
	w->legs = g_array_sized_new(FALSE, TRUE, sizeof(tb_weave_leg), made);
	w->runs = g_array_new(FALSE, TRUE, sizeof(tb_weave_run));
	w->edges = g_array_sized_new(FALSE, TRUE, sizeof(tb_weave_edge), made);
	w->groups = g_array_new(FALSE, TRUE, sizeof(tb_weave_group));
	w->rows = g_array_new(FALSE, TRUE, sizeof(tb_weave_row));
	w->extras = g_array_new(FALSE, TRUE, sizeof(tb_weave_extra));
	w->chains = g_array_new(FALSE, TRUE, sizeof(guint32));
	return w;
}

tb_weave *tb_weave_read(tb_setting *s)
{
	tb_weave *w = tb_weave_new(s);
	gsize count = s->fabric->made_count + 1;
	reader r = {.w = w, .s = s, .fabric = s->fabric, .node_of = g_new(guint32, count), .run_of = g_new(guint32, count),
		.trodden = g_new0(bool, count), .spur = g_new0(bool, count), .gaps = g_hash_table_new(NULL, NULL)};
	for (gsize i = 0; i < count; i++)
		r.node_of[i] = r.run_of[i] = TB_NONE;
	find_middle(&r);
	find_fold(&r);
	find_trodden(&r);
	find_spurs(&r);
	bool spiral = w->spiral = w->rounds && is_spiral(&r);
	guint32 corner = TB_NONE;
	for (guint32 k = 0; k + s->lowest <= s->last; k++) {
		begin_row(&r, k);
		if (k > 0)
			read_row(&r, k);
		else
			read_foundation(&r);
		if (k == 0 && s->lowest == 0 && !w->rounds && !w->ring && has_bare_corner(&r))
			corner = add_node(&r, TB_NONE, 0);
		tb_weave_row *row = tb_weave_row_at(w, k);
		row->closed = w->rounds && row->count > 2 && !(k == 0 && w->oval) && !(spiral && k > 0);
		for (guint32 i = row->first; k > 0 && i < row->first + row->count; i++)
			stand_up(&r, i, corner);
	}
	w->z = g_new0(double complex, w->nodes->len + 1);
	w->node_of = g_steal_pointer(&r.node_of);
	w->run_of = g_steal_pointer(&r.run_of);
	g_free(r.trodden);
	g_free(r.spur);
	g_hash_table_unref(r.gaps);
	if (r.by_column != NULL)
		g_hash_table_unref(r.by_column);
	tb_weave_shape(w);
	return w;
}

void tb_weave_free(tb_weave *w)
{
	if (w == NULL)
		return;
	g_array_unref(w->nodes);
	g_array_unref(w->legs);
	g_array_unref(w->runs);
	g_array_unref(w->edges);
	g_array_unref(w->groups);
	g_array_unref(w->rows);
	g_array_unref(w->extras);
	g_array_unref(w->chains);
	g_free(w->node_of);
	g_free(w->run_of);
	g_free(w->z);
	g_free(w);
}
