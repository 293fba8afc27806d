/*
 * The filter reads Cairo's stream tag by tag; it knows the few tags it changes and copies the rest.
 *
 *   <svg>       gains role, language and the ids of its title and description, which follow it
 *   id, href    are numbered anew in order of appearance, behind the picture's prefix: Cairo counts
 *               on through the life of a program, and two pictures in one page would share names
 *   <path>      of a group's speck becomes <g> with its title, or </g>; other points are said
 *               shorter (svg_path.c)
 *   <use>       moved but not turned says so by x and y, to a thousandth
 *   <clipPath>  goes, with what refers to it: nothing is ever clipped by us, and the only ones are
 *               the boxes of recorded shapes, which are larger than the shapes
 *
 * At the end every id referred to must be there and every group closed; anything else is a failure,
 * never a half-right picture.
 */
#include "output/svg_filter.h"

#include "output/paint.h"
#include "output/svg_path.h"

#include <string.h>

typedef struct {
	const tb_svg_names *names;
	GByteArray *out;
	GHashTable *ids;     /* Cairo's id to our number */
	GHashTable *defined; /* Cairo's ids that were met as ids */
	GHashTable *clips;   /* ids of the boxes left out */
	GArray *prefixes;    /* guint: where in OUT the picture's prefix stands */
	guint begun, ended;
	guint svg_tags;
} filter;

static void put(filter *f, const char *text, gsize length)
{
	g_byte_array_append(f->out, (const guint8 *)text, (guint)length);
}

static void put_string(filter *f, const char *text)
{
	put(f, text, strlen(text));
}

/* The prefix is not known before the picture is whole; its room is kept. */
#define PREFIX_ROOM "tb00000000"

static void put_prefix(filter *f)
{
	guint place = f->out->len;
	g_array_append_val(f->prefixes, place);
	put_string(f, PREFIX_ROOM);
}

static void fill_prefixes(filter *f, guint first)
{
	/* A name, not a seal: any sum that parts pictures will do. */
	g_autofree char *sum =
		g_compute_checksum_for_data(G_CHECKSUM_MD5, f->out->data + first, f->out->len - first);

	for (guint i = 0; i < f->prefixes->len; i++)
		memcpy(f->out->data + g_array_index(f->prefixes, guint, i) + 2, sum,
			strlen(PREFIX_ROOM) - 2);
}

static void put_escaped(filter *f, const char *text)
{
	g_autofree char *clean = tb_output_clean(text);
	g_autofree char *escaped = g_markup_escape_text(clean, -1);
	put_string(f, escaped);
}

static void put_titled(filter *f, const char *tag, const char *id, const char *text)
{
	put(f, "<", 1);
	put_string(f, tag);
	if (id != NULL) {
		put_string(f, " id=\"");
		put_prefix(f);
		put(f, "-", 1);
		put_string(f, id);
		put(f, "\"", 1);
	}
	put(f, ">", 1);
	put_escaped(f, text);
	put(f, "</", 2);
	put_string(f, tag);
	put_string(f, ">\n");
}

/* Our name for an id of Cairo's; takes OLD over. */
static void put_id(filter *f, char *old)
{
	gpointer number;

	if (!g_hash_table_lookup_extended(f->ids, old, NULL, &number)) {
		number = GUINT_TO_POINTER(g_hash_table_size(f->ids) + 1);
		g_hash_table_insert(f->ids, g_strdup(old), number);
	}
	char name[16];
	g_snprintf(name, sizeof name, "-%u", GPOINTER_TO_UINT(number));
	put_prefix(f);
	put_string(f, name);
	g_free(old);
}

/* Whether LENGTH bytes at TEXT hold WORD; where, or NULL. */
static const char *find(const char *text, gsize length, const char *word)
{
	return g_strstr_len(text, (gssize)length, word);
}

static bool is_tag(const char *tag, gsize length, const char *name)
{
	gsize n = strlen(name);
	return length > n + 1 && tag[0] == '<' && strncmp(tag + 1, name, n) == 0 &&
		!g_ascii_isalnum(tag[1 + n]);
}

/* The value of an attribute of a tag, or NULL. Owned. NAME is with its blank: " id". */
static char *get_attribute(const char *tag, gsize length, const char *name)
{
	g_autofree char *start = g_strconcat(name, "=\"", NULL);
	const char *at = find(tag, length, start);
	if (at == NULL)
		return NULL;
	at += strlen(start);
	const char *end = memchr(at, '"', length - (gsize)(at - tag));
	return end == NULL ? NULL : g_strndup(at, (gsize)(end - at));
}

/* A value that is an id, or begins with a reference to one: where it begins and what ends it. */
typedef struct {
	const char *value;
	char end;
	bool is_id;
} reference;

static bool ends_with(const char *first, const char *end, const char *word)
{
	gsize length = strlen(word);
	return (gsize)(end - first) >= length && memcmp(end - length, word, length) == 0;
}

static bool find_reference(const char *tag, const char *end, reference *found)
{
	for (const char *c = tag; c < end; c++) {
		if (*c == '"' && ends_with(tag, c, " id="))
			*found = (reference){c + 1, '"', true};
		else if (*c == '#' && ends_with(tag, c, "href=\""))
			*found = (reference){c + 1, '"', false};
		else if (*c == '#' && ends_with(tag, c, "url("))
			*found = (reference){c + 1, ')', false};
		else
			continue;
		return true;
	}
	return false;
}

/*
 * Copies a tag with its ids and references made ours. A reference to a box left out goes with the
 * whole attribute, which begins at the blank before it.
 */
static bool put_tag(filter *f, const char *tag, gsize length)
{
	static const char CLIP[] = " clip-path=\"url(#";
	const char *end = tag + length;
	reference next;

	while (find_reference(tag, end, &next)) {
		const char *value_end = memchr(next.value, next.end, (gsize)(end - next.value));
		if (value_end == NULL)
			return false;
		char *old = g_strndup(next.value, (gsize)(value_end - next.value));
		if (ends_with(tag, next.value, CLIP) && g_hash_table_contains(f->clips, old)) {
			put(f, tag, (gsize)(next.value - strlen(CLIP) - tag));
			g_free(old);
			tag = value_end + 2;
			continue;
		}
		if (next.is_id)
			g_hash_table_add(f->defined, g_strdup(old));
		put(f, tag, (gsize)(next.value - tag));
		put_id(f, old);
		tag = value_end;
	}
	if (tag < end)
		put(f, tag, (gsize)(end - tag));
	return true;
}

static void put_svg(filter *f, const char *tag, gsize length)
{
	put(f, tag, length - 1);
	put_string(f, " xml:lang=\"en\" role=\"img\" aria-labelledby=\"");
	put_prefix(f);
	put_string(f, "-title ");
	put_prefix(f);
	put_string(f, "-desc\">\n");
	put_titled(f, "title", "title", f->names->title);
	put_titled(f, "desc", "desc", f->names->description);
	f->svg_tags++;
}

static void put_place(filter *f, const char *name, gint64 thousandths)
{
	put_string(f, name);
	tb_svg_put_thousandths(f->out, thousandths);
	put(f, "\"", 1);
}

/*
 * "matrix(1,0,0,1,X,Y)" is x and y; shorter, and what an editor shows. A letter's x and y stand there
 * already.
 */
static bool put_use(filter *f, const char *tag, gsize length)
{
	static const char MOVED[] = " transform=\"matrix(1,0,0,1,", X[] = " x=\"", Y[] = "\" y=\"";
	const char *end = tag + length, *place = find(tag, length, X);
	bool placed = place != NULL;
	gint64 x, y;

	if (!placed)
		place = find(tag, length, MOVED);
	if (place == NULL)
		return put_tag(f, tag, length);
	const char *at = place + strlen(placed ? X : MOVED), *between = placed ? Y : ",";
	bool good = tb_svg_read_thousandths(&at, end, &x) && g_str_has_prefix(at, between);
	at += good ? strlen(between) : 0;
	const char *after = placed ? "\"" : ")\"";
	if (!good || !tb_svg_read_thousandths(&at, end, &y) || !g_str_has_prefix(at, after))
		return put_tag(f, tag, length);
	at += strlen(after);
	if (!put_tag(f, tag, (gsize)(place - tag)))
		return false;
	put_place(f, X, x);
	put_place(f, " y=\"", y);
	put(f, at, (gsize)(end - at));
	return true;
}

/* A group's speck, by its opacity in either spelling Cairo has had. */
static bool is_speck(const char *tag, gsize length, const char *style, const char *attribute)
{
	return find(tag, length, style) != NULL || find(tag, length, attribute) != NULL;
}

#define SPELLINGS(opacity) \
	"fill-opacity:" G_STRINGIFY(opacity) ";", " fill-opacity=\"" G_STRINGIFY(opacity) "\""

/* The points, and what of the tag is after them. */
static bool put_points(filter *f, const char *points, gsize length)
{
	static const char START[] = " d=\"";
	const char *first = points + strlen(START);
	const char *end = memchr(first, '"', length - strlen(START));

	if (end == NULL)
		return false;
	put_string(f, START);
	tb_svg_put_path(f->out, first, (gsize)(end - first));
	put(f, end, (gsize)(points + length - end));
	return true;
}

static bool put_path(filter *f, const char *tag, gsize length)
{
	/* The points of a whole row follow; there is nothing to find in them. */
	const char *points = find(tag, length, " d=\"");
	gsize head = points == NULL ? length : (gsize)(points - tag);

	if (is_speck(tag, head, SPELLINGS(TB_SVG_BEGIN_OPACITY))) {
		if (f->begun == f->names->group_count)
			return false;
		put_string(f, "<g>");
		put_titled(f, "title", NULL, f->names->groups[f->begun++]);
		return true;
	}
	if (is_speck(tag, head, SPELLINGS(TB_SVG_END_OPACITY))) {
		put_string(f, "</g>");
		return f->ended++ < f->begun;
	}
	if (!put_tag(f, tag, head))
		return false;
	return points == NULL || put_points(f, points, (gsize)(tag + length - points));
}

/*
 * Passes over a clip that is one box, and remembers its id. Returns where the stream goes on: at
 * TAG itself when it is more than a box.
 */
static const char *pass_clip(filter *f, const char *tag, gsize length, const char *end)
{
	static const char CLOSE[] = "</clipPath>";
	const char *close = find(tag, (gsize)(end - tag), CLOSE);
	char *id = get_attribute(tag, length, " id");
	const char *box = tag + length;

	while (close != NULL && box < close && g_ascii_isspace(*box))
		box++;
	const char *box_end = close == NULL ? NULL : memchr(box, '>', (gsize)(close - box));
	bool one_box = id != NULL && box_end != NULL && is_tag(box, (gsize)(box_end - box), "rect") &&
		memchr(box_end, '<', (gsize)(close - box_end)) == NULL;
	if (!one_box) {
		g_free(id);
		return tag;
	}
	g_hash_table_add(f->clips, id);
	const char *after = close + strlen(CLOSE);
	return after < end && *after == '\n' ? after + 1 : after;
}

static bool put_any(filter *f, const char *tag, gsize length)
{
	if (is_tag(tag, length, "svg")) {
		put_svg(f, tag, length);
		return true;
	}
	if (is_tag(tag, length, "path"))
		return put_path(f, tag, length);
	if (is_tag(tag, length, "use"))
		return put_use(f, tag, length);
	return put_tag(f, tag, length);
}

static bool filter_all(filter *f, const char *at, const char *end)
{
	while (at < end) {
		const char *tag = memchr(at, '<', (gsize)(end - at));
		if (tag == NULL)
			break;
		put(f, at, (gsize)(tag - at));
		const char *close = memchr(tag, '>', (gsize)(end - tag));
		if (close == NULL)
			return false;
		gsize length = (gsize)(close + 1 - tag);
		if (is_tag(tag, length, "clipPath")) {
			at = pass_clip(f, tag, length, end);
			if (at != tag)
				continue;
		}
		if (!put_any(f, tag, length))
			return false;
		at = close + 1;
	}
	put(f, at, (gsize)(end - at));
	return true;
}

static bool is_whole(filter *f)
{
	GHashTableIter iter;
	gpointer id;

	g_hash_table_iter_init(&iter, f->ids);
	while (g_hash_table_iter_next(&iter, &id, NULL)) {
		if (!g_hash_table_contains(f->defined, id))
			return false;
	}
	return f->svg_tags == 1 && f->begun == f->names->group_count && f->ended == f->begun;
}

bool tb_svg_filter(const char *svg, gsize length, const tb_svg_names *names, GByteArray *out,
	GError **error)
{
	filter f = {
		.names = names,
		.out = out,
		.ids = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.defined = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.clips = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.prefixes = g_array_new(FALSE, FALSE, sizeof(guint)),
	};
	guint first = out->len;
	bool done = filter_all(&f, svg, svg + length) && is_whole(&f);
	if (done)
		fill_prefixes(&f, first);

	g_hash_table_unref(f.ids);
	g_hash_table_unref(f.defined);
	g_hash_table_unref(f.clips);
	g_array_unref(f.prefixes);
	if (!done)
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"this computer's Cairo writes SVG of a kind that is not known; PDF and PNG still work");
	return done;
}
