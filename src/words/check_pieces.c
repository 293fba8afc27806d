/*
 * Pieces that grow from pieces: which of the last row's stitches each of them works, and how many
 * nobody does, as for a neck.
 */
#include "words/check.h"

#include "fabric/fabric.h"

/* A number a size as a pattern writes it: "37 (41, 45)", or "37" when all are alike. */
static void add_numbers(GString *out, const guint32 *numbers, unsigned sizes)
{
	bool alike = true;
	for (unsigned size = 1; size < sizes; size++)
		alike = alike && numbers[size] == numbers[0];
	g_string_append_printf(out, "%u", numbers[0]);
	for (unsigned size = 1; size < sizes && !alike; size++)
		g_string_append_printf(out, "%s%u", size == 1 ? " (" : ", ", numbers[size]);
	g_string_append(out, sizes > 1 && !alike ? ")" : "");
}

static void add_parent(GString *out, const tb_worked *worked, unsigned parent)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern), children = 0;
	guint32 left[TB_MAX_SIZES] = {0};
	for (unsigned size = 0; size < sizes; size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, parent, size);
		left[size] = fabric->row_count > 0 ? fabric->rows[fabric->row_count - 1].stitches : 0;
	}
	g_autoptr(GString) line = g_string_new(tb_pattern_get_piece(pattern, parent));
	g_string_append(line, ", last row: ");
	add_numbers(line, left, sizes);
	g_string_append(line, " sts; ");
	for (unsigned piece = parent + 1; piece < tb_pattern_count_pieces(pattern); piece++) {
		guint32 works[TB_MAX_SIZES] = {0};
		tb_grown grown;
		bool grows = false;
		for (unsigned size = 0; size < sizes; size++) {
			if (!tb_grow_range(tb_worked_script(worked, piece), piece, size, &grown) ||
				grown.parent != parent || grown.last < grown.first)
				continue;
			grows = true;
			works[size] = grown.last - grown.first + 1;
			left[size] -= MIN(left[size], works[size]);
		}
		if (!grows)
			continue;
		g_string_append_printf(line, "%s%s%s ", children > 0 ? ", " : "",
			tb_pattern_get_piece(pattern, piece), children == 0 ? " works" : "");
		children++;
		add_numbers(line, works, sizes);
	}
	if (children == 0)
		return;
	g_string_append(line, "; ");
	add_numbers(line, left, sizes);
	g_string_append_printf(
		out, "%s %s left.\n", line->str, sizes == 1 && left[0] == 1 ? "is" : "are");
}

void tb_check_add_pieces(GString *out, const tb_worked *worked, int piece)
{
	unsigned pieces = tb_pattern_count_pieces(tb_worked_pattern(worked));
	gsize before = out->len;
	for (unsigned parent = 0; parent < pieces; parent++) {
		if (piece < 0 || (unsigned)piece == parent)
			add_parent(out, worked, parent);
	}
	if (out->len > before)
		g_string_append_c(out, '\n');
}
