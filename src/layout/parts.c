/*
 * In which parts rounds lie. Out of a middle they are a disc as long as they grow as a disc does; where they grow little
 * or not they are a tube, charted flat, cut open where its rounds begin; and where they draw in, they close to a disc
 * again, seen from outside and worked inward. A toy is all three, a hat two of them. Where all lies well as one, it is
 * one.
 */
#include "layout/chart.h"
#include "layout/weave.h"

#include <math.h>

/* A circle so many times as long as its stitches are wide is no place for them. */
#define MOST_APART 1.6
/* … of loops, which do not part but draw in what is inside of them; rounds of which chains span so much more are such */
#define LACE_APART 1.25
#define MOST_SPANS 1.0
#define LEAST_APART 0.8
/* Where a disc ends they are no further apart than this. */
#define APART_AT_END 1.35
/* A ring of chains that is worked to so many times its width is a yoke: it lies as a ring, not as a tube. */
#define WIDENS 1.4
/* A tube widens or closes where it changes by so many times, as a disc does. */
#define CHANGES 1.5
/* Fewer stitches than this are no round. */
#define LEAST_AROUND 3
/* A close leaves no more of the stitches below than this. */
#define MOST_LEFT 0.1
/* A row that has more stitches than this beside the row below joins other work. */
#define MOST_BESIDE 0.1
/* What is left of the row below amid a row, beyond the chains over it, parts from it: so many stitches, of it. */
#define LEAST_PARTED 4
#define MOST_PARTED 0.08

/* A round: its stitches and chains, and how high they stand, in columns. */
typedef struct {
	double wide, high;
	double most_apart; /* so many times its width a circle may have */
	bool around;  /* a round */
	bool breaks;  /* … that would break where it is cut open */
	bool on_tops; /* all stands on stitches of the round below, and on nearly all of them */
	bool joins;   /* much of it stands on what no row shows, or it leaves much of the row below: it begins anew */
	guint32 brought; /* so many made last are other work's, that the next takes up with it */
} tb_round;

typedef struct {
	guint32 count;
	tb_round *of; /* by row */
} rounds;

/* ---- what has a middle ---- */

static bool is_worked_in_ring(const tb_fabric *fabric)
{
	const tb_made_row *row = &fabric->rows[1];
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		if (made->base_count > 0 && !(made->flags & (TB_MADE_IN_SPACE | TB_MADE_TURNING)))
			return fabric->made[tb_fabric_base(fabric, made, 0)].row != 0;
	}
	return true;
}

/* A small ring, of whose chains each has several stitches, is the middle of a disc. */
static bool is_crowded_ring(const tb_fabric *fabric)
{
	return fabric->rows[0].count <= TB_WEAVE_MOST_RING && 2 * fabric->rows[1].stitches > 3 * fabric->rows[0].count;
}

/* Whether its first round stands on a ring that is no middle: chains that are joined, or stitches around an opening. */
static bool begins_on_ring(const tb_fabric *fabric)
{
	const tb_made_row *start = &fabric->rows[0];
	if (start->count < 3 || is_worked_in_ring(fabric))
		return false;
	/* Chains that are not joined lie the other way from the round on them. */
	bool chain = fabric->made[start->first].flags & TB_MADE_CHAIN;
	return !chain || (start->leftward == fabric->rows[1].leftward && !is_crowded_ring(fabric));
}

/* A yoke widens from the neck on. */
static bool widens(const tb_fabric *fabric, guint32 last)
{
	double widest = 0;
	for (guint32 r = 1; r <= last; r++)
		widest = fmax(widest, fabric->rows[r].stitches);
	return widest >= WIDENS * fabric->rows[0].count && widest >= WIDENS * fabric->rows[1].stitches;
}

/* ---- rounds ---- */

/* Whether a stitch stands on stitches of the row just below alone. */
static bool stands_on_row_below(const tb_fabric *fabric, const tb_made *made)
{
	for (unsigned b = 0; b < made->base_count; b++) {
		const tb_made *base = &fabric->made[tb_fabric_base(fabric, made, b)];
		if (base->row + 1 != made->row || (base->flags & TB_MADE_CHAIN && base->row > 0))
			return false;
	}
	return !(made->flags & TB_MADE_IN_SPACE);
}

/*
 * Whether a row of plain stitches leaves stitches of the row below aside amid it, as a yoke leaves its sleeves, and is so
 * much narrower, chains and all.
 */
static bool parts_from_below(const tb_fabric *fabric, guint32 r)
{
	const tb_made_row *row = &fabric->rows[r], *below = &fabric->rows[r - 1];
	guint32 parted = 0, last = TB_NONE, chains = 0, wide = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		bool chain = made->flags & TB_MADE_CHAIN;
		chains += chain;
		wide += chain || made->flags & TB_MADE_COUNTED;
		if (!(made->flags & TB_MADE_COUNTED) || chain || made->base_count == 0)
			continue;
		guint32 base = tb_fabric_base(fabric, made, 0), left = 0;
		/* Groups take the room of what is left beside them. */
		if (fabric->made[base].row != r - 1 || base == last)
			return false;
		guint32 from = last == TB_NONE ? base : MIN(last, base) + 1, to = last == TB_NONE ? base : MAX(last, base);
		for (guint32 b = MAX(from, below->first); b < to; b++)
			left += (fabric->made[b].flags & TB_MADE_COUNTED) != 0;
		parted += left >= chains + LEAST_PARTED ? left - chains : 0;
		last = tb_fabric_base(fabric, made, made->base_count - 1);
		chains = 0;
	}
	return parted > MOST_PARTED * below->stitches && wide + parted / 2 < below->stitches;
}

/* Whether several stitches stand in one place, and the round's end on the beginning of the one below. */
static bool is_broken_by_cut(const tb_fabric *fabric, guint32 r)
{
	const tb_made_row *row = &fabric->rows[r];
	guint32 first = TB_NONE, last = TB_NONE;
	bool fans = false, back = false;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		if (!(made->flags & TB_MADE_COUNTED) || made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING) || made->base_count == 0)
			continue;
		guint32 base = tb_fabric_base(fabric, made, 0);
		fans = fans || base == last;
		first = first == TB_NONE ? base : first;
		back = back || (last != TB_NONE && (row->leftward == row[-1].leftward ? base < last && base <= first : base > last && base >= first));
		last = base;
	}
	return fans && back;
}

/* The way that so many chains between two stitches span at most, but for what the stitches take. */
static double span_of(guint32 chains)
{
	return chains < 3 ? 0.5 * chains : tb_weave_span(chains) - 1;
}

static tb_round read_round(const tb_fabric *fabric, guint32 r)
{
	const tb_made_row *row = &fabric->rows[r];
	guint32 chains = 0, stitches = 0, bases = 0, beside = 0;
	double spans = 0;
	tb_round round = {.high = row->height * TB_WEAVE_CHAIN, .around = row->is_round, .on_tops = r > 1};
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		bool chain = made->flags & TB_MADE_CHAIN, counted = made->flags & TB_MADE_COUNTED;
		chains = chain ? chains + 1 : 0;
		spans += chain ? span_of(chains) - span_of(chains - 1) : 0;
		stitches += counted && !chain;
		bases += counted ? made->base_count : 0;
		beside += counted && !chain && made->base_count == 0 && !(made->flags & TB_MADE_TURNING);
		round.on_tops = round.on_tops && !chain && (!counted || stands_on_row_below(fabric, made));
	}
	round.wide = stitches + spans;
	round.most_apart = spans > MOST_SPANS * stitches ? LACE_APART : MOST_APART;
	round.breaks = r > 1 && is_broken_by_cut(fabric, r);
	round.on_tops = round.on_tops && stitches >= LEAST_AROUND && bases + 1 >= (1 - MOST_LEFT) * row[-1].stitches;
	round.joins = r > 1 && beside > MOST_BESIDE * stitches;
	/* What stands on nothing behind all that stands on something was brought there. */
	for (guint32 m = row->first + row->count; m > row->first && beside > 0; m--, round.brought++)
		if (fabric->made[m - 1].base_count > 0 || fabric->made[m - 1].flags & (TB_MADE_CHAIN | TB_MADE_TURNING))
			break;
	if (r < 2 || row->elsewhere || round.brought != beside)
		round.brought = 0;
	round.joins = (round.joins && round.brought == 0) || (r > 1 && parts_from_below(fabric, r));
	return round;
}

/* Foundation stitches stand on chains of their own: nothing lies below them. */
static bool is_own_foundation(const tb_chart *chart)
{
	const tb_made_row *row = &chart->fabric->rows[1];
	const tb_library *library = tb_worked_pattern(chart->worked)->library;
	return !row->is_round && row->count > 0 && chart->fabric->rows[0].count == 0 &&
		tb_library_get(library, chart->fabric->made[row->first].stitch)->foot == TB_FOOT_CHAIN;
}

static void read_rounds(const tb_fabric *fabric, rounds *p)
{
	p->count = fabric->row_count;
	p->of = g_new0(tb_round, p->count);
	p->of[0].wide = fabric->rows[0].count;
	for (guint32 r = 1; r < p->count; r++) {
		p->of[r] = read_round(fabric, r);
		p->of[r].joins = p->of[r].joins || p->of[r - 1].brought > 0;
	}
}

/* The last round before END of a disc that begins with round FROM, on a circle so long as AROUND; FROM - 1 for none. */
static guint32 find_disc(const rounds *p, guint32 from, guint32 end, double around)
{
	guint32 last = from - 1;
	bool apart = false;
	for (guint32 r = from; r < end; r++) {
		const tb_round *round = &p->of[r];
		around += r > 1 ? 2 * G_PI * round->high : 0;
		/* On other rounds, what grows by more than a disc does ruffles: flat it has room. */
		if (from > 1 && around < LEAST_APART * round->wide)
			return last;
		/* One round of loops, as behind petals, is no tube. */
		bool was_apart = apart;
		apart = around > round->most_apart * round->wide;
		if (apart && (was_apart || round->on_tops))
			return last;
		if (r == 1 || (round->wide > p->of[r - 1].wide && around <= APART_AT_END * round->wide))
			last = r;
	}
	return end - 1;
}

/* The last round before STOP of a close that begins with round FROM; FROM - 1 where none does. */
static guint32 find_close(const rounds *p, guint32 from, guint32 stop)
{
	guint32 last = from - 1;
	for (guint32 end = from; end < stop && p->of[end].on_tops && p->of[end].wide <= p->of[end - 1].wide; end++) {
		double around = p->of[end].wide;
		bool close = p->of[from - 1].wide >= CHANGES * around && p->of[from].wide < p->of[from - 1].wide;
		for (guint32 r = end; r >= from && close; r--) {
			around += 2 * G_PI * p->of[r].high;
			close = around <= MOST_APART * p->of[r - 1].wide;
		}
		if (close && (p->of[end].wide < p->of[end - 1].wide || last == end - 1))
			last = end;
	}
	/* Where it goes on as a tube, what does not close any more is that. */
	while (last >= from && last + 1 < stop && p->of[last].wide == p->of[last - 1].wide)
		last--;
	return last;
}

/* ---- parts ---- */

static void add_part(tb_chart *chart, const rounds *p, guint32 first, guint32 last, tb_part_lay lay)
{
	const tb_made_row *rows = chart->fabric->rows;
	tb_chart_part part = {.lay = lay};
	for (guint32 r = first; r <= last; r++) {
		if (rows[r].number < chart->options.first_row || rows[r].number > chart->options.last_row)
			continue;
		part.first = part.first == 0 ? r : part.first;
		part.last = r;
	}
	part.joins = p->of[first].joins && part.first == first;
	part.brought = part.last == last ? p->of[last].brought : 0;
	if (part.first > 0)
		g_array_append_val(chart->parts, part);
}

/* A tube, or where cutting it open would break it, a disc: with the one before it, if there is one. */
static void add_tube(tb_chart *chart, const rounds *p, guint32 first, guint32 last)
{
	bool breaks = false;
	for (guint32 r = first; r <= last; r++)
		breaks = breaks || p->of[r].breaks;
	tb_chart_part *before = chart->parts->len > 0 ? tb_chart_part_at(chart, chart->parts->len - 1) : NULL;
	if (!breaks)
		add_part(chart, p, first, last, TB_LAY_TUBE);
	else if (before == NULL || before->lay != TB_LAY_DISC || before->last + 1 != first || p->of[first].joins)
		add_part(chart, p, first, last, TB_LAY_DISC);
	else
		for (guint32 r = first; r <= last && chart->fabric->rows[r].number <= chart->options.last_row; r++)
			before->last = r;
}

/* How what begins with round FROM lies, and its last round before END; a tube where it neither widens nor closes. */
static tb_part_lay find_part(const rounds *p, guint32 from, guint32 end, guint32 *last)
{
	double below = p->of[from - 1].wide;
	*last = find_disc(p, from, end, below);
	if (*last >= from && p->of[from].wide > below && p->of[*last].wide >= CHANGES * below)
		return TB_LAY_DISC;
	*last = find_close(p, from, end);
	if (*last >= from)
		return TB_LAY_CLOSE;
	*last = from;
	return TB_LAY_TUBE;
}

/* One round between parts, or behind the last, is no tube: it goes with the part before. */
static bool add_one(tb_chart *chart, const rounds *p, guint32 tube, guint32 end)
{
	tb_chart_part *before = chart->parts->len > 0 ? tb_chart_part_at(chart, chart->parts->len - 1) : NULL;
	if (before == NULL || before->last + 1 != tube || tube + 1 != end || p->of[tube].joins ||
		(before->lay == TB_LAY_CLOSE && !p->of[tube].on_tops))
		return false;
	const tb_made_row *row = &chart->fabric->rows[tube];
	if (row->number <= chart->options.last_row)
		before->last = tube;
	return true;
}

/* The rounds from FROM to before END. What joins other work has its first round as its ring. */
static void add_rounds(tb_chart *chart, const rounds *p, guint32 from, guint32 end)
{
	guint32 tube = from, last;
	for (guint32 r = p->of[from].joins ? from + 1 : from; r < end; r = last + 1) {
		tb_part_lay lay = find_part(p, r, end, &last);
		if (lay == TB_LAY_TUBE)
			continue;
		bool ring = tube == from && p->of[from].joins && r == from + 1;
		if (r > tube && !ring && !add_one(chart, p, tube, r))
			add_tube(chart, p, tube, r - 1);
		add_part(chart, p, ring ? from : r, last, lay);
		tube = last + 1;
	}
	if (tube < end && !add_one(chart, p, tube, end))
		add_tube(chart, p, tube, end - 1);
}

/* The first rounds, before END. */
static void add_first_rounds(tb_chart *chart, const rounds *p, guint32 end)
{
	bool ring = begins_on_ring(chart->fabric);
	guint32 disc = find_disc(p, 1, end, p->of[1].wide);
	if (ring && !widens(chart->fabric, disc))
		disc = 0;
	if (disc > 0)
		add_part(chart, p, 1, disc, TB_LAY_DISC);
	if (disc + 1 < end)
		add_rounds(chart, p, disc + 1, end);
}

void tb_chart_find_parts(tb_chart *chart)
{
	rounds p;
	read_rounds(chart->fabric, &p);
	p.of[1].joins = is_own_foundation(chart);
	g_array_set_size(chart->parts, 0);
	for (guint32 r = 1, end; r < p.count; r = end) {
		for (end = r + 1; end < p.count && p.of[end].around == p.of[r].around && !p.of[end].joins;)
			end++;
		if (!p.of[r].around)
			add_part(chart, &p, r, end - 1, TB_LAY_ROWS);
		else if (r == 1)
			add_first_rounds(chart, &p, end);
		else
			add_rounds(chart, &p, r, end);
	}
	g_free(p.of);
}

const tb_chart_part *tb_chart_part_of(const tb_chart *chart, const tb_chart_row *row)
{
	guint index = (guint)(row - &g_array_index(chart->rows, tb_chart_row, 0)), last = chart->parts->len - 1;
	for (guint i = 0; i < last; i++)
		if (index < tb_chart_part_at(chart, i)->row + tb_chart_part_at(chart, i)->rows)
			return tb_chart_part_at(chart, i);
	return tb_chart_part_at(chart, last);
}

bool tb_chart_is_set_flat(const tb_chart *chart, const tb_chart_row *row)
{
	tb_part_lay lay = tb_chart_part_of(chart, row)->lay;
	return lay == TB_LAY_ROWS || lay == TB_LAY_TUBE;
}
