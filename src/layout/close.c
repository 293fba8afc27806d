/*
 * Rounds that draw in to a close, seen from outside. Turned inside out they are a disc that grows out of its last round:
 * what two stitches are drawn together in is then one that two stand on. That disc is laid as any other, and its mirror
 * image is the close.
 */
#include "layout/relax.h"

/* The same nodes, the last round first; IMAGE tells where each has come to be. */
static void turn_nodes(const tb_weave *w, tb_weave *v, guint32 *image)
{
	guint32 count = w->rows->len;
	for (guint32 r = 0; r < count; r++) {
		tb_weave_row row = *tb_weave_row_at(w, count - 1 - r);
		guint32 first = row.first;
		row.first = v->nodes->len;
		row.closed = row.count > 2;
		g_array_append_val(v->rows, row);
		for (guint32 i = 0; i < row.count; i++) {
			tb_weave_node node = *tb_weave_node_at(w, first + i);
			node.row = r;
			node.leg_count = 0;
			image[first + i] = v->nodes->len;
			g_array_append_val(v->nodes, node);
		}
	}
}

/* Each stands on those that stood on it, as high as they did. */
static void turn_legs(const tb_weave *w, tb_weave *v, const guint32 *image)
{
	g_autofree guint32 *next = g_new0(guint32, v->nodes->len + 1);
	for (guint32 k = 0; k < w->legs->len; k++)
		tb_weave_node_at(v, image[tb_weave_leg_at(w, k)->base])->leg_count++;
	guint32 sum = 0;
	for (guint32 i = 0; i < v->nodes->len; i++) {
		tb_weave_node *node = tb_weave_node_at(v, i);
		node->first_leg = next[i] = sum;
		sum += node->leg_count;
	}
	g_array_set_size(v->legs, w->legs->len);
	for (guint32 k = 0; k < w->legs->len; k++) {
		tb_weave_leg leg = *tb_weave_leg_at(w, k);
		guint32 head = image[leg.node];
		leg.node = image[leg.base];
		leg.base = head;
		tb_weave_node_at(v, leg.node)->height = leg.height;
		*tb_weave_leg_at(v, next[leg.node]++) = leg;
	}
}

void tb_weave_lay_close(tb_weave *w)
{
	tb_weave *v = tb_weave_new(w->s);
	g_autofree guint32 *image = g_new(guint32, w->nodes->len + 1);
	turn_nodes(w, v, image);
	turn_legs(w, v, image);
	v->z = g_new0(double complex, v->nodes->len + 1);
	tb_weave_shape(v);
	tb_symmetry *symmetry = tb_symmetry_find(v);
	tb_relax(v, symmetry);
	for (guint32 i = 0; i < w->nodes->len; i++)
		w->z[i] = -conj(v->z[image[i]]);
	tb_symmetry_free(symmetry);
	tb_weave_free(v);
}
