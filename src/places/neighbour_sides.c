/*
 * The sides along which a motif is joined. A corner is a space within what stands in one place, as in (3 dc, ch 2, 3 dc);
 * of several such spaces the longest are corners. A side has places to be joined at between its corners: its spaces, or
 * where it has none the gaps between groups. A side joined between its corners is joined at all places that a side of the
 * other motif has.
 */
#include "places/neighbour.h"

#include <string.h>

/* Motifs have no more. */
#define MOST_CORNERS 16u

typedef struct {
	guint32 begin, end; /* its chains, among what the row made */
	bool joined;
} corner;

typedef struct {
	corner all[MOST_CORNERS];
	unsigned count;
} corners;

/* A row of a motif, and where it is joined to others. */
typedef struct {
	const tb_made *made;
	guint32 first, end;
	const tb_joined *joins;
	unsigned join_count;
} edge;

static bool is_stitch(const tb_made *made)
{
	return (made->flags & TB_MADE_COUNTED) != 0 && (made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == 0;
}

/* How often the edge is joined behind stitch FROM and before stitch END or at it; *PIECE is the last one joined to. */
static unsigned joins_between(const edge *e, guint32 from, guint32 end, int *piece)
{
	unsigned many = 0;
	for (unsigned i = 0; i < e->join_count; i++) {
		bool here = e->joins[i].at > from && e->joins[i].at <= end;
		many += here;
		*piece = here ? e->joins[i].piece : *piece;
	}
	return many;
}

/* The chains from I on that stand in the midst of a group, up to *END; how many, or 0. What joins them to another motif is none. */
static guint32 chains_in_group(const edge *e, guint32 i, guint32 *end)
{
	guint16 group = e->made[i].group;
	guint32 to = i, chains = 0;
	if (group == 0 || (e->made[i].flags & TB_MADE_CHAIN) == 0)
		return 0;
	for (; to < e->end && e->made[to].group == group && !is_stitch(&e->made[to]); to++)
		chains += (e->made[to].flags & TB_MADE_CHAIN) != 0;
	*end = to;
	return to < e->end && e->made[to].group == group ? chains : 0;
}

/* The corners of an edge whose longest spaces in groups have LENGTH chains; a joined one may have one fewer. */
static corners find_corners(const edge *e, guint32 length)
{
	corners found = {.count = 0};
	int piece = -1;
	for (guint32 i = e->first; i < e->end; i++) {
		guint32 to, chains = chains_in_group(e, i, &to);
		if (chains == 0)
			continue;
		bool joined = joins_between(e, i, to - 1, &piece) > 0;
		if ((chains == length || (joined && chains + 1 == length)) && found.count < MOST_CORNERS)
			found.all[found.count++] = (corner){i, to, joined};
		i = to;
	}
	return found;
}

static guint32 longest_in_group(const edge *e)
{
	guint32 longest = 0;
	for (guint32 i = e->first; i < e->end; i++) {
		guint32 to, chains = chains_in_group(e, i, &to);
		longest = MAX(longest, chains);
		i = chains > 0 ? to : i;
	}
	return longest;
}

/* The places to be joined at from stitch FROM to stitch END. */
static void count_places(const edge *e, guint32 from, guint32 end, unsigned *spaces, unsigned *gaps, guint16 *before)
{
	for (guint32 i = from; i < end; i++) {
		const tb_made *made = &e->made[i];
		bool chain = (made->flags & TB_MADE_CHAIN) != 0 && made->group == 0;
		*spaces += chain && i > e->first && (e->made[i - 1].flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == 0;
		if (!is_stitch(made))
			continue;
		*gaps += made->group != 0 && *before != 0 && made->group != *before;
		*before = made->group;
	}
}

/* The places of the side behind corner I. */
static unsigned places_of_side(const edge *e, const corners *c, unsigned i)
{
	unsigned spaces = 0, gaps = 0;
	guint16 before = e->made[c->all[i].begin].group;
	guint32 next = i + 1 < c->count ? c->all[i + 1].begin : e->end;
	count_places(e, c->all[i].end, next, &spaces, &gaps, &before);
	if (i + 1 == c->count)
		count_places(e, e->first, c->all[0].begin, &spaces, &gaps, &before);
	return spaces > 0 ? spaces : gaps;
}

/* The places of each side of PIECE; false where its sides are not all alike, or not as many as CORNERS. */
static bool find_places(const tb_hands *h, int piece, unsigned corners_here, unsigned *places)
{
	const tb_fabric *f = tb_worked_fabric(h->working->worked, (unsigned)piece, h->size);
	const tb_made_row *row = f->row_count > 0 ? &f->rows[f->row_count - 1] : NULL;
	if (row == NULL)
		return false;
	edge e = {.made = f->made, .first = row->first, .end = row->first + row->count};
	corners c = find_corners(&e, longest_in_group(&e));
	if (c.count != corners_here)
		return false;
	*places = places_of_side(&e, &c, 0);
	for (unsigned i = 1; i < c.count; i++) {
		if (places_of_side(&e, &c, i) != *places)
			return false;
	}
	return true;
}

/* Where "joined on 2 sides" stands in TEXT, the number that it says; 0 where it does not. */
static unsigned said_sides(const char *text)
{
	static const char *const numbers[] = {"one", "two", "three", "four", "five", "six"};
	static const char *const leads[] = {"joined on ", "joined along ", "joined at ", "joining on ", "joining along ", "join on ", "join along "};
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(leads); i++) {
		const char *at = strstr(lower, leads[i]);
		if (at == NULL)
			continue;
		at += strlen(leads[i]);
		char *end;
		unsigned many = (unsigned)g_ascii_strtoull(at, &end, 10);
		for (size_t k = 0; k < G_N_ELEMENTS(numbers) && many == 0; k++) {
			if (g_str_has_prefix(at, numbers[k])) {
				many = (unsigned)k + 1;
				end = (char *)(gpointer)(at + strlen(numbers[k]));
			}
		}
		if (many > 0 && (g_str_has_prefix(end, " side") || g_str_has_prefix(end, " edge")))
			return many;
	}
	return 0;
}

/* What the row says of its sides, or the piece's heading. */
static unsigned find_said(const tb_hands *h)
{
	const char *heading = tb_pattern_piece(h->working->pattern, h->piece)->heading;
	unsigned said = h->sentence->joined_sides;
	for (unsigned i = 0; i < h->sentence->claim_count && said == 0; i++)
		said = h->sentence->claims[i].flanks ? tb_hands_number(h, &h->sentence->claims[i].count, 0) : 0;
	return said > 0 || heading == NULL || h->cursor.neighbours == 0 ? said : said_sides(heading);
}

/* The side behind corner I: whether it is joined, and where it is joined otherwise than it can be, told. */
static bool is_side_joined(tb_hands *h, const edge *e, const corners *c, unsigned i)
{
	int piece = -1;
	unsigned places, next = (i + 1) % c->count;
	guint32 end = next > 0 ? c->all[next].begin : e->end;
	unsigned many = joins_between(e, c->all[i].end - 1, end, &piece);
	if (next == 0)
		many += joins_between(e, e->first - MIN(e->first, 1), c->all[0].begin, &piece);
	bool corners_joined = c->all[i].joined && c->all[next].joined;
	if (many > 0 && piece >= 0 && find_places(h, piece, c->count, &places) && places != many)
		tb_hands_tell(h, TB_ERROR, "join-place", h->sentence->span, "Look at how many spaces that side has between its corners.",
			"a side is joined to %s at %u place%s between its corners, and a side of that has %u",
			tb_pattern_piece(h->working->pattern, (unsigned)piece)->name, many, many == 1 ? "" : "s", places);
	return many > 0 || corners_joined;
}

void tb_neighbour_sides(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned said = find_said(h), joined = 0, joins = MIN(h->cursor.neighbours, TB_MOST_JOINED);
	if (joins == 0 && said == 0)
		return;
	edge e = {.made = (const tb_made *)(gconstpointer)h->cloth.made->data, .first = row->first, .end = row->first + row->count,
		.joins = h->cursor.joined_at, .join_count = joins};
	corners c = find_corners(&e, longest_in_group(&e));
	bool known = c.count > 2 && joins == h->cursor.neighbours;
	tb_hands_look(h, (guint64)row->count * 2 + 1);
	for (unsigned i = 0; i < c.count && known; i++)
		joined += is_side_joined(h, &e, &c, i);
	if (said > 0 && joins > 0 && !known)
		tb_hands_tell(h, TB_WARNING, "not-checked", h->sentence->span, "Hold the sides against how the motifs lie.",
			"which sides are joined is not known: the round shows no corners");
	else if (said > 0 && said != joined)
		tb_hands_tell(h, TB_ERROR, "count-claimed", h->sentence->span, "Look at the corners and sides at which it is joined.",
			"the motif is joined on %u side%s, the pattern says %u", joined, joined == 1 ? "" : "s", said);
}
