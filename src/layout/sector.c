/*
 * The sector that a piece in rounds repeats around its middle: the smallest that every charted round
 * has equally often. Marked by a line outside the last round, with how often it comes.
 */
#include "layout/setting.h"

#include <math.h>

/* How far outside the last round the line lies, in columns, and how long its ends are. */
#define OUTSIDE 1.15
#define TICK 0.3
#define STEPS 32

/* Like stitches have like tokens; a turning chain is like the stitch it stands for. */
static guint32 token_of(const tb_setting *s, const tb_made *made, guint32 chains)
{
	if (chains > 0)
		return 1000 + chains;
	if (made->flags & TB_MADE_TURNING)
		return (guint32)made->chains * 16;
	const tb_stitch *stitch = tb_setting_stitch(s, made);
	guint32 token = (guint32)lround(stitch->height) * 16;
	/* Only plain stitches are like a turning chain. */
	return stitch->post == TB_POST_NONE && stitch->meet == TB_MEET_NOWHERE ? token :
		2000u + made->stitch;
}

static GArray *list_tokens(const tb_setting *s, const tb_made_row *row)
{
	GArray *tokens = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		guint32 chains = 0;
		if (s->run[m] != 0) {
			chains = g_array_index(s->runs, tb_run, s->run[m] - 1).count;
			m += chains - 1;
		} else if (!(made->flags & TB_MADE_COUNTED)) {
			continue;
		}
		guint32 token = token_of(s, made, chains);
		g_array_append_val(tokens, token);
	}
	return tokens;
}

static bool repeats_every(const GArray *tokens, guint32 period)
{
	for (guint32 i = period; i < tokens->len; i++)
		if (g_array_index(tokens, guint32, i) != g_array_index(tokens, guint32, i - period))
			return false;
	return true;
}

static guint32 greatest_common(guint32 a, guint32 b)
{
	while (b != 0) {
		guint32 rest = a % b;
		a = b;
		b = rest;
	}
	return a;
}

/* How often the round's smallest part comes around. */
static guint32 count_parts(const tb_setting *s, const tb_made_row *row)
{
	g_autoptr(GArray) tokens = list_tokens(s, row);
	for (guint32 period = 1; period <= tokens->len / 2; period++)
		if (tokens->len % period == 0 && repeats_every(tokens, period))
			return tokens->len / period;
	return 1;
}

static void add_spot(tb_setting *s, double at, double level)
{
	tb_spot spot = tb_ground_spot(s, at, level);
	g_array_append_val(s->chart->sector, spot);
}

void tb_setting_find_sector(tb_setting *s)
{
	tb_chart *chart = s->chart;
	guint32 times = 0;
	for (guint32 r = MAX(s->first, 1); r <= s->last; r++)
		times = greatest_common(times, count_parts(s, &s->fabric->rows[r]));
	const tb_made_row *row = &s->fabric->rows[s->last];
	if (times < 2 || row->count == 0 || s->shape == TB_GROUND_OVAL)
		return;
	double level = 0;
	guint32 first = TB_NONE, last = TB_NONE;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		level = fmax(level, s->level[m]);
		if (s->fabric->made[m].flags & TB_MADE_COUNTED && !tb_setting_is_chain(&s->fabric->made[m])) {
			first = first == TB_NONE ? m : first;
			last = m;
		}
	}
	if (first == TB_NONE)
		return;
	double column = chart->column / chart->chain;
	double start = s->shape == TB_GROUND_POLYGON ? s->corner_at :
		(s->at[first] + s->at[last] - s->period) / 2;
	double out = level + OUTSIDE * column, in = out - TICK * column;
	chart->sector_times = times;
	add_spot(s, start, in);
	for (unsigned i = 0; i <= STEPS; i++)
		add_spot(s, start + (double)i / STEPS / times, out);
	add_spot(s, start + 1.0 / times, in);
	chart->sector_label = tb_ground_spot(s, start + 0.5 / times, out + 0.45 * column);
}
