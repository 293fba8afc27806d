/* What PDFs of one page and of many share: a page's marks, and what the file says of itself. */
#include "output/pdf.h"

#include "support/limits.h"

#include <string.h>

/*
 * Stitches stand on steps of 1/32 of a point, no farther from their place than 6 micrometres, which no
 * printer shows: equal stitches are then written in equal figures, and the file packs into a fifth
 * less.
 */
#define STEPS_PER_MM (32 * TB_POINTS_PER_MM)

bool tb_pdf_check_page(const tb_drawing *drawing, GError **error)
{
	double width = drawing->width_mm * TB_POINTS_PER_MM;
	double height = drawing->height_mm * TB_POINTS_PER_MM;

	if (width < TB_LIMIT_PDF_LEAST_POINTS || height < TB_LIMIT_PDF_LEAST_POINTS) {
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"the picture is too small for a PDF page: a side is at least 1.1 mm");
		return false;
	}
	if (width <= TB_LIMIT_PDF_POINTS && height <= TB_LIMIT_PDF_POINTS)
		return true;
	g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE,
		"the picture is %.0f x %.0f mm, and a PDF page ends at 5080 mm: chart fewer rows or "
		"stitches, or choose a smaller stitch width",
		drawing->width_mm, drawing->height_mm);
	return false;
}

static void set_metadata(cairo_surface_t *surface, cairo_pdf_metadata_t kind, const char *text)
{
	g_autofree char *clean = tb_output_clean(text);
	if (*clean != '\0')
		cairo_pdf_surface_set_metadata(surface, kind, clean);
}

void tb_pdf_describe(cairo_surface_t *surface, const char *title, const char *author,
	const char *subject, time_t created)
{
	g_autoptr(GDateTime) date = g_date_time_new_from_unix_utc(created);
	g_autofree char *date_text =
		date == NULL ? NULL : g_date_time_format(date, "%Y-%m-%dT%H:%M:%S+00:00");

	set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
	set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, author);
	set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, subject);
	set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "tambour " TB_VERSION);
	set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date_text);
}

typedef struct {
	cairo_t *cr;
	const tb_drawing *drawing;
	tb_type *type;
	tb_words *words;
	bool tagged;   /* the drawing has tags of its own */
	unsigned open; /* groups */
	guint group;   /* mark of the outermost */
	GPtrArray *tags; /* const char *: those that are open */
} page_painter;

static bool has_tags(const tb_drawing *drawing)
{
	for (guint i = 0; i < drawing->marks->len; i++)
		if (g_array_index(drawing->marks, tb_mark, i).kind == TB_MARK_TAG)
			return true;
	return false;
}

/* A text by itself is a paragraph; one in a row or in a tag belongs to that. */
static void paint_text(const page_painter *p, const tb_mark *mark)
{
	bool alone = p->open == 0 && !p->tagged;
	if (alone)
		cairo_tag_begin(p->cr, "P", NULL);
	tb_paint_text(p->cr, p->drawing, mark, p->type);
	if (alone)
		cairo_tag_end(p->cr, "P");
}

/* Targets are names of our own, letters, figures and dashes, so they need no quoting. */
static void begin_tag(const page_painter *p, const tb_mark *mark)
{
	const char *role = mark->role;
	g_autofree char *how = NULL;
	if (strcmp(role, "Dest") == 0) {
		role = CAIRO_TAG_DEST;
		how = g_strdup_printf("name='%s'", mark->target);
	} else if (strcmp(role, "Link") == 0) {
		role = CAIRO_TAG_LINK;
		how = g_strdup_printf("dest='%s'", mark->target);
	}
	cairo_tag_begin(p->cr, role, how);
	g_ptr_array_add(p->tags, (gpointer)role);
}

static void end_tag(const page_painter *p)
{
	cairo_tag_end(p->cr, g_ptr_array_index(p->tags, p->tags->len - 1));
	g_ptr_array_set_size(p->tags, (gint)p->tags->len - 1);
}

static void begin_group(page_painter *p, guint mark)
{
	if (p->open++ > 0)
		return;
	cairo_tag_begin(p->cr, "P", NULL);
	p->group = mark;
}

static void end_group(page_painter *p)
{
	if (--p->open > 0)
		return;
	tb_words_show(p->words, p->cr, p->group);
	cairo_tag_end(p->cr, "P");
}

/* Paints mark number I; returns the last that was painted with it. */
static guint paint_mark(page_painter *p, guint i)
{
	const tb_mark *mark = &g_array_index(p->drawing->marks, tb_mark, i);
	guint end = i + 1;

	switch (mark->kind) {
	case TB_MARK_SHAPE:
		end = tb_paint_find_run_end(p->drawing, i);
		tb_paint_run(p->cr, p->drawing, i, end, STEPS_PER_MM);
		break;
	case TB_MARK_LINE:
		tb_paint_line(p->cr, p->drawing, mark);
		break;
	case TB_MARK_TEXT:
		paint_text(p, mark);
		break;
	case TB_MARK_GROUP:
		begin_group(p, i);
		break;
	case TB_MARK_END:
		end_group(p);
		break;
	case TB_MARK_CLIP:
		cairo_save(p->cr);
		cairo_rectangle(p->cr, mark->x, mark->y, mark->width_mm, mark->height_mm);
		cairo_clip(p->cr);
		break;
	case TB_MARK_UNCLIP:
		cairo_restore(p->cr);
		break;
	case TB_MARK_TAG:
		begin_tag(p, mark);
		break;
	case TB_MARK_UNTAG:
		end_tag(p);
		break;
	}
	return end - 1;
}

void tb_pdf_paint_marks(cairo_t *cr, const tb_drawing *drawing, tb_type *type, tb_words *words)
{
	page_painter p = {.cr = cr, .drawing = drawing, .type = type, .words = words,
		.tagged = has_tags(drawing), .tags = g_ptr_array_new()};

	for (guint i = 0; i < drawing->marks->len; i++)
		i = paint_mark(&p, i);
	g_ptr_array_unref(p.tags);
}

/*
 * Cairo 1.16 leaves out the "D:" that a date begins with (ISO 32000-1, 7.9.4). The zone "+00'00" is
 * written shorter, as Z, and blanks behind the string keep every offset of the file true. A later
 * Cairo writes the date in full and is left alone.
 */
void tb_pdf_mend_date(GByteArray *bytes)
{
	static const char KEY[] = "/CreationDate (", ZONE[] = "+00'00)";
	const gsize key = sizeof(KEY) - 1, figures = 14, zone = sizeof(ZONE) - 1;

	/* The information stands near the end. */
	for (gsize at = bytes->len; at-- > 0;) {
		guint8 *here = &bytes->data[at];
		if (*here != '/' || bytes->len - at < key + figures + zone || memcmp(here, KEY, key) != 0)
			continue;
		guint8 *date = here + key;
		if (g_ascii_isdigit(date[0]) && memcmp(date + figures, ZONE, zone) == 0) {
			memmove(date + 2, date, figures);
			memcpy(date, "D:", 2);
			memcpy(date + 2 + figures, "Z)   ", 5);
		}
		return;
	}
}
