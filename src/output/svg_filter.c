/*
 * The filter reads Cairo's stream tag by tag; it knows the few tags it changes and copies the rest.
 *
 *   <svg>       gains role, language and the ids of its title and description, which follow it
 *   id, href    are numbered anew in order of appearance, behind the picture's prefix: Cairo counts
 *               on through the life of a program, and two pictures in one page would share names
 *   <path>      of a group's speck becomes <g> with its title, or </g>
 *   <use>       moved but not turned says so by x and y
 *   <clipPath>  goes, with what refers to it: nothing is ever clipped by us, and the only ones are
 *               the boxes of recorded shapes, which are larger than the shapes
 *
 * At the end every id referred to must be there and every group closed; anything else is a failure,
 * never a half-right picture.
 */
#include "output/svg_filter.h"

#include "output/paint.h"

#include <string.h>

typedef struct {
	const tb_svg_names *names;
	GByteArray *out;
	GHashTable *ids;     /* Cairo's id to our number */
	GHashTable *defined; /* Cairo's ids that were met as ids */
	GHashTable *clips;   /* ids of the boxes left out */
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

static void put_escaped(filter *f, const char *text)
{
	g_autofree char *clean = tb_output_clean(text);
	g_autofree char *escaped = g_markup_escape_text(clean, -1);
	put_string(f, escaped);
}

static void put_titled(filter *f, const char *tag, const char *id, const char *text)
{
	g_autofree char *start = id == NULL
		? g_strdup_printf("<%s>", tag)
		: g_strdup_printf("<%s id=\"%s-%s\">", tag, f->names->prefix, id);
	g_autofree char *end = g_strdup_printf("</%s>\n", tag);

	put_string(f, start);
	put_escaped(f, text);
	put_string(f, end);
}

/* Our name for an id of Cairo's; takes OLD over. */
static void put_id(filter *f, char *old)
{
	gpointer number;

	if (!g_hash_table_lookup_extended(f->ids, old, NULL, &number)) {
		number = GUINT_TO_POINTER(g_hash_table_size(f->ids) + 1);
		g_hash_table_insert(f->ids, g_strdup(old), number);
	}
	g_autofree char *name =
		g_strdup_printf("%s-%u", f->names->prefix, GPOINTER_TO_UINT(number));
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

/*
 * Copies a tag with its ids and references made ours. A reference to a box left out goes with the
 * whole attribute, which begins at the blank before it.
 */
static bool put_tag(filter *f, const char *tag, gsize length)
{
	static const struct {
		const char *start;
		char end;
		bool is_id;
	} places[] = {
		{" id=\"", '"', true},
		{"href=\"#", '"', false},
		{"url(#", ')', false},
	};
	const char *end = tag + length;

	while (tag < end) {
		const char *next = NULL;
		gsize which = 0;
		for (gsize i = 0; i < G_N_ELEMENTS(places); i++) {
			const char *found = find(tag, (gsize)(end - tag), places[i].start);
			if (found != NULL && (next == NULL || found < next)) {
				next = found;
				which = i;
			}
		}
		if (next == NULL)
			break;
		const char *value = next + strlen(places[which].start);
		const char *value_end = memchr(value, places[which].end, (gsize)(end - value));
		if (value_end == NULL)
			return false;
		char *old = g_strndup(value, (gsize)(value_end - value));
		const char *attribute = find(tag, (gsize)(value - tag), " clip-path=\"url(#");
		if (attribute != NULL && g_hash_table_contains(f->clips, old)) {
			put(f, tag, (gsize)(attribute - tag));
			g_free(old);
			tag = value_end + 2;
			continue;
		}
		if (places[which].is_id)
			g_hash_table_add(f->defined, g_strdup(old));
		put(f, tag, (gsize)(value - tag));
		put_id(f, old);
		tag = value_end;
	}
	if (tag < end)
		put(f, tag, (gsize)(end - tag));
	return true;
}

static void put_svg(filter *f, const char *tag, gsize length)
{
	const char *prefix = f->names->prefix;
	g_autofree char *more = g_strdup_printf(
		" xml:lang=\"en\" role=\"img\" aria-labelledby=\"%s-title %s-desc\">\n", prefix, prefix);

	put(f, tag, length - 1);
	put_string(f, more);
	put_titled(f, "title", "title", f->names->title);
	put_titled(f, "desc", "desc", f->names->description);
	f->svg_tags++;
}

/* "matrix(1,0,0,1,X,Y)" is x and y; shorter, and what an editor shows. */
static bool put_use(filter *f, const char *tag, gsize length)
{
	static const char MOVED[] = "matrix(1,0,0,1,";
	g_autofree char *transform = get_attribute(tag, length, " transform");
	const char *attribute = find(tag, length, " transform=\"");

	if (transform == NULL || !g_str_has_prefix(transform, MOVED) || find(tag, length, " x=\""))
		return put_tag(f, tag, length);
	g_auto(GStrv) parts = g_strsplit(transform + strlen(MOVED), ",", 2);
	if (g_strv_length(parts) != 2 || !g_str_has_suffix(parts[1], ")"))
		return put_tag(f, tag, length);
	parts[1][strlen(parts[1]) - 1] = '\0';
	g_autofree char *place = g_strdup_printf(" x=\"%s\" y=\"%s\"/>", parts[0], parts[1]);
	if (!put_tag(f, tag, (gsize)(attribute - tag)))
		return false;
	put_string(f, place);
	return true;
}

/* A group's speck, by its opacity in either spelling Cairo has had. */
static bool is_speck(const char *tag, gsize length, const char *style, const char *attribute)
{
	return find(tag, length, style) != NULL || find(tag, length, attribute) != NULL;
}

#define SPELLINGS(opacity) \
	"fill-opacity:" G_STRINGIFY(opacity) ";", " fill-opacity=\"" G_STRINGIFY(opacity) "\""

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
	put(f, tag + head, length - head);
	return true;
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
	};
	bool done = filter_all(&f, svg, svg + length) && is_whole(&f);

	g_hash_table_unref(f.ids);
	g_hash_table_unref(f.defined);
	g_hash_table_unref(f.clips);
	if (!done)
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"this computer's Cairo writes SVG of a kind that is not known; PDF and PNG still work");
	return done;
}
