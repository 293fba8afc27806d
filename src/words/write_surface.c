/* Surface slip stitches in words: "With MC, surface sl st between Rows 3 and 4. (12 sl sts)". */
#include "words/write_surface.h"

#include "fabric/surface.h"
#include "fabric/surface.h"

#include "words/writer.h"

static void add_rows(tb_writer *w, const tb_surface_line *line, bool first, bool round)
{
	if (first)
		g_string_append(w->out, round ? "Rnd" : "Row");
	if (first && (line->last.count > 0 || line->between))
		g_string_append_c(w->out, 's');
	g_string_append_c(w->out, ' ');
	tb_writer_number(w, &line->first);
	if (line->last.count > 0) {
		g_string_append(w->out, line->between ? " and " : "-");
		tb_writer_number(w, &line->last);
	}
}

static void add_columns(tb_writer *w, const tb_surface *s, bool round)
{
	for (unsigned i = 0; i < s->count; i++) {
		g_string_append(w->out, i == 0 ? " between sts " : " and between sts ");
		tb_writer_number(w, &s->lines[i].st);
		g_string_append(w->out, " and ");
		tb_writer_number(w, &s->lines[i].beside);
	}
	if (s->lines[0].first.count == 0) {
		g_string_append(w->out, round ? " over all rnds" : " over all rows");
		return;
	}
	g_string_append(w->out, " over ");
	add_rows(w, &s->lines[0], true, round);
}

static void add_lines(tb_writer *w, const tb_surface *s, bool round)
{
	g_string_append(w->out, s->lines[0].between ? " between " : " along ");
	for (unsigned i = 0; i < s->count; i++) {
		if (i > 0)
			g_string_append(w->out, i + 1 == s->count ? " and" : ",");
		add_rows(w, &s->lines[i], i == 0, round);
	}
}

/* "12 (14, 16)": how many there are. */
static void add_made(tb_writer *w, const tb_worked *worked, unsigned piece, const tb_act *act)
{
	unsigned sizes = w->options->size < 0 ? tb_pattern_count_sizes(w->options->pattern) : 1;
	int made[TB_MAX_SIZES];
	bool same = true;
	for (unsigned i = 0; i < sizes; i++) {
		unsigned size = w->options->size < 0 ? i : (unsigned)w->options->size;
		tb_surface_miss miss;
		made[i] = (int)tb_surface_find(tb_worked_fabric(worked, piece, size), act, size, NULL, &miss);
		same = same && made[i] == made[0];
	}
	tb_number number = {same ? 1 : sizes, made, act->span};
	tb_writer_number(w, &number);
}

static char *write_one(const tb_worked *worked, unsigned piece, const tb_act *act, const tb_write_options *options)
{
	const tb_surface *s = act->surface;
	const tb_fabric *fabric = tb_worked_fabric(worked, piece, options->size < 0 ? 0 : (unsigned)options->size);
	bool round = fabric->row_count > 1 && fabric->rows[1].is_round;
	tb_writer w = {.out = g_string_new(NULL), .options = options};
	const char *slip = tb_writer_stitch(&w, tb_library_find(options->pattern->library, "sl st"));
	if (s->colour != NULL)
		g_string_append_printf(w.out, "With %s, surface %s", s->colour, slip);
	else
		g_string_append_printf(w.out, "Surface %s", slip);
	bool up = s->lines[0].st.count > 0;
	if (up)
		add_columns(&w, s, round);
	else
		add_lines(&w, s, round);
	if (!tb_writer_is(&w, &s->each, 1)) {
		g_string_append(w.out, ", ");
		tb_writer_number(&w, &s->each);
		g_string_append(w.out, !up ? " in each st" : round ? " in each rnd" : " in each row");
	}
	g_string_append(w.out, ". (");
	add_made(&w, worked, piece, act);
	g_string_append_printf(w.out, " %s)", slip);
	return g_string_free(w.out, FALSE);
}

void tb_surface_write_all(GString *out, const tb_worked *worked, unsigned piece, const tb_write_options *options)
{
	const tb_script *script = tb_worked_script(worked, piece);
	for (unsigned i = 0; i < script->count; i++) {
		const tb_sentence *sentence = script->sentences[i];
		bool here = options->size < 0 || (sentence->sizes >> options->size & 1);
		for (unsigned k = 0; here && k < sentence->surface.count; k++) {
			g_autofree char *line = write_one(worked, piece, &sentence->surface.acts[k], options);
			g_string_append_printf(out, "%s\n", line);
		}
	}
}
