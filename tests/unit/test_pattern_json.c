/* The pattern's model from JSON. */
#include "pattern/json_places.h"
#include "pattern/pattern.h"
#include "pattern/read.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
	tb_source *source;
	tb_library *library;
	tb_diagnostics *faults;
	tb_pattern *pattern;
} reading;

static reading read_bytes(const char *text, size_t length)
{
	reading r = {0};
	r.source = tb_source_create("test.json", text, length);
	r.library = tb_library_create();
	r.faults = tb_diagnostics_create(r.source);
	r.pattern = tb_pattern_read(r.source, r.library, r.faults);
	return r;
}

static reading read_text(const char *text)
{
	return read_bytes(text, strlen(text));
}

static void finish(reading *r)
{
	tb_pattern_destroy(r->pattern);
	tb_diagnostics_destroy(r->faults);
	tb_library_destroy(r->library);
	tb_source_destroy(r->source);
}

/* The first fault of a pattern: its code and where it is. */
static void expect_fault(const char *text, const char *code, unsigned line, unsigned column)
{
	reading r = read_text(text);
	const tb_diagnostic *fault = tb_diagnostics_get(r.faults, 0);
	cr_expect_not_null(fault, "no fault in %s", text);
	if (fault != NULL) {
		unsigned l = 0, c = 0;
		tb_source_locate(r.source, fault->place.start, &l, &c);
		cr_expect_str_eq(fault->code, code, "%s: %s in %s", fault->code, fault->message, text);
		cr_expect(l == line && c == column, "%u:%u in %s", l, c, text);
	}
	finish(&r);
}

#define HEAD "{\"format\":1,"
#define PIECES "\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\",\"rows\":[\"Row 1: dc across.\"]}]}"

static const char whole[] =
	"\xef\xbb\xbf{\"format\": 1, \"title\": \"Basket\", \"designer\": \"A. N.\", \"about\": \"x\",\n"
	"\"licence\": \"CC0\", \"terms\": \"uk\", \"sizes\": [\"S\", \"M\", \"L\"],\n"
	"\"yarn\": {\"weight\": 4, \"note\": \"wool\"}, \"hook\": \"I-9 (5.5 mm)\",\n"
	"\"gauge\": {\"stitches\": 13, \"rows\": 9.5, \"over\": \"4 in\"}, \"stitches\": [],\n"
	"\"pieces\": [\n"
	"{\"name\": \"Back\", \"start\": \"Ch 85 (93, 101).\", \"rows\": [\"Row 1: dc\", \"Row 2: sc\"]},\n"
	"{\"name\": \"Left front\", \"from\": {\"piece\": \"back\", \"stitches\": \"1-37 (41, 45)\"},\n"
	" \"rows\": [\"Row 1: dc\"]}],\n"
	"\"charts\": [{\"title\": \"T\", \"piece\": \"Back\", \"rows\": \"3-6\"}]}";

Test(pattern_json, every_key_is_read)
{
	reading r = read_text(whole);
	g_autofree char *faults = tb_diagnostics_format(r.faults);
	cr_assert_str_empty(faults, "%s", faults);
	const tb_pattern *p = r.pattern;
	cr_expect_str_eq(p->title, "Basket");
	cr_expect_str_eq(p->designer, "A. N.");
	cr_expect(p->uk_terms);
	cr_expect_eq(tb_pattern_count_sizes(p), 3);
	cr_expect_eq(tb_pattern_find_size(p, "m"), 1);
	cr_expect_eq(tb_pattern_find_size(p, "XL"), -1);
	cr_expect_eq(p->yarn_weight, 4);
	cr_expect_str_eq(p->yarn_note, "wool");
	cr_expect_eq(p->hook_mm, 5.5);
	cr_expect(p->gauge.given && p->gauge.has_rows && p->gauge.over_inches);
	cr_expect_eq(p->gauge.stitches, 13);
	cr_expect_eq(p->gauge.rows, 9.5);
	/* 4 inches of 25.4 mm (international inch, 1959) */
	cr_expect_float_eq(p->gauge.over_mm, 101.6, 1e-9);
	cr_assert_eq(tb_pattern_count_pieces(p), 2);
	cr_expect_str_eq(tb_pattern_piece(p, 0)->start->chars, "Ch 85 (93, 101).");
	cr_expect_eq(tb_pattern_piece(p, 0)->rows->len, 2);
	cr_expect_str_eq(tb_pattern_piece(p, 1)->from_piece, "back");
	cr_expect_str_eq(tb_pattern_piece(p, 1)->from_text->chars, "1-37 (41, 45)");
	cr_assert_eq(p->charts->len, 1);
	const tb_chart_request *chart = p->charts->pdata[0];
	cr_expect(chart->first_row == 3 && chart->last_row == 6);
	finish(&r);
}

Test(pattern_json, an_ungraded_pattern_has_one_unnamed_size)
{
	reading r = read_text(HEAD PIECES);
	cr_assert_eq(tb_diagnostics_count(r.faults), 0);
	cr_expect_eq(tb_pattern_count_sizes(r.pattern), 1);
	cr_expect_str_eq(tb_pattern_get_size(r.pattern, 0), "");
	cr_expect_eq(r.pattern->yarn_weight, -1);
	cr_expect_not(r.pattern->gauge.given);
	finish(&r);
}

Test(pattern_json, a_text_knows_where_each_byte_stands)
{
	const char *json = "{\"a\": \"x\\u00e9\\n\\ud83e\\uddf6y\", \"b\": \"plain\"}";
	g_autoptr(tb_source) source = tb_source_create("x", json, strlen(json));
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_json) read = tb_json_read(source, faults);
	cr_assert_not_null(read);
	const cJSON *root = tb_json_root(read);
	g_autoptr(tb_text) escaped = tb_json_text(read, root->child);
	/* x, é in two bytes, a line break, a ball of yarn in four, y */
	cr_expect_str_eq(escaped->chars, "x\xc3\xa9\n\xf0\x9f\xa7\xb6y");
	cr_assert_not_null(escaped->offsets);
	static const guint32 expected[] = {7, 8, 8, 14, 16, 16, 16, 16, 28, 29};
	cr_assert_eq(escaped->length + 1, G_N_ELEMENTS(expected));
	for (size_t i = 0; i < G_N_ELEMENTS(expected); i++)
		cr_expect_eq(escaped->offsets[i], expected[i], "byte %zu is at %u", i, escaped->offsets[i]);
	g_autoptr(tb_text) plain = tb_json_text(read, root->child->next);
	cr_expect_null(plain->offsets);
	cr_expect_eq(plain->offset, (size_t)(strstr(json, "plain") - json));
	tb_span key = tb_json_key(read, root->child->next);
	cr_expect_eq(key.start, (size_t)(strstr(json, "\"b\"") - json));
}

Test(pattern_json, lengths_and_hooks)
{
	static const struct {
		const char *text;
		double mm;
		bool inches;
	} lengths[] = {{"10 cm", 100, false}, {"10cm", 100, false}, {"100 mm", 100, false},
		{"4 in", 101.6, true}, {"4\"", 101.6, true}, {"4 inches", 101.6, true},
		{"2.5 cm", 25, false}, {" 4 IN ", 101.6, true}};
	for (size_t i = 0; i < G_N_ELEMENTS(lengths); i++) {
		double mm = 0;
		bool inches = false;
		cr_expect(tb_read_length(lengths[i].text, &mm, &inches), "%s", lengths[i].text);
		cr_expect_float_eq(mm, lengths[i].mm, 1e-9, "%s is %g", lengths[i].text, mm);
		cr_expect_eq(inches, lengths[i].inches);
	}
	static const char *const bad[] = {"", "cm", "10", "0 cm", "-4 in", "10 furlongs", "x 10 cm"};
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		double mm;
		bool inches;
		cr_expect_not(tb_read_length(bad[i], &mm, &inches), "%s", bad[i]);
	}
	/* 5 mm is H-8: Craft Yarn Council, Standards & Guidelines */
	cr_expect_eq(tb_read_hook("H-8 (5 mm)"), 5);
	cr_expect_eq(tb_read_hook("5.5mm"), 5.5);
	cr_expect_eq(tb_read_hook("H-8"), 0);
}

Test(pattern_json, faults_are_told_at_their_place)
{
	expect_fault("", "pattern-empty", 1, 1);
	expect_fault("{", "json-syntax", 1, 2);
	expect_fault("{\"format\":1,}", "json-syntax", 1, 13);
	expect_fault("{\"format\":1 \"a\":2}", "json-syntax", 1, 13);
	expect_fault("{\"format\":01}", "json-syntax", 1, 11);
	expect_fault("{\"format\":1} x", "json-syntax", 1, 14);
	expect_fault("{\"format\":yes}", "json-syntax", 1, 11);
	expect_fault("{\"title\":\"a\nb\"}", "json-syntax", 1, 10);
	expect_fault("{\"title\":\"a\tb\"}", "json-string", 1, 12);
	expect_fault("{\"title\":\"a\\qb\"}", "json-string", 1, 12);
	expect_fault("{\"title\":\"a\\ud83eb\"}", "json-string", 1, 12);
	expect_fault("{\"title\":\"a\\uddf6\"}", "json-string", 1, 12);
	expect_fault("{\"title\":\"a\\u0000\"}", "json-string", 1, 12);
	expect_fault("{\"title\":\"a\xff\"}", "text-encoding", 1, 12);
	expect_fault(HEAD "\"titel\":\"x\"," PIECES, "key-unknown", 1, 13);
	expect_fault(HEAD "\"title\":\"x\",\"title\":\"y\"," PIECES, "key-repeated", 1, 25);
	expect_fault(HEAD "\"title\":3," PIECES, "key-kind", 1, 21);
	expect_fault("{\"format\":2," PIECES, "format-version", 1, 11);
	expect_fault("{" PIECES, "format-version", 1, 1);
	expect_fault(HEAD "\"terms\":\"FR\"," PIECES, "terms-unknown", 1, 21);
	expect_fault(HEAD "\"sizes\":[]," PIECES, "size-list", 1, 21);
	expect_fault(HEAD "\"sizes\":[\"S\",\" \"]," PIECES, "size-name", 1, 26);
	expect_fault(HEAD "\"sizes\":[\"S\",\"s\"]," PIECES, "size-name", 1, 26);
	expect_fault(HEAD "\"yarn\":{\"weight\":8}," PIECES, "yarn-weight", 1, 30);
	expect_fault(HEAD "\"hook\":\"H-8\"," PIECES, "hook-size", 1, 20);
	expect_fault(HEAD "\"gauge\":{\"stitches\":0,\"over\":\"10 cm\"}," PIECES, "gauge-value", 1, 33);
	expect_fault(HEAD "\"gauge\":{\"stitches\":1e999,\"over\":\"10 cm\"}," PIECES, "gauge-value",
		1, 33);
	expect_fault(HEAD "\"gauge\":{\"stitches\":9}," PIECES, "gauge-value", 1, 21);
	expect_fault("{\"format\":1}", "piece-list", 1, 1);
	expect_fault(HEAD "\"pieces\":[{\"start\":\"Ch 9\",\"rows\":[\"x\"]}]}", "piece-name", 1, 23);
	expect_fault(HEAD "\"pieces\":[{\"name\":\"A\",\"rows\":[\"x\"]}]}", "piece-start", 1, 23);
	expect_fault(HEAD "\"pieces\":[{\"name\":\"A\",\"start\":\"Ch 9\"}]}", "piece-rows", 1, 23);
	expect_fault(HEAD "\"pieces\":[{\"name\":\"A\",\"rows\":[\"x\"],"
		"\"from\":{\"piece\":\"B\",\"stitches\":\"1-2\"}}]}", "piece-unknown", 1, 64);
	expect_fault(HEAD "\"charts\":[{\"rows\":\"6-3\"}]," PIECES, "chart-rows", 1, 31);
	expect_fault(HEAD "\"charts\":[{\"piece\":\"Bak\"}]," PIECES, "piece-unknown", 1, 32);
}

Test(pattern_json, one_fault_does_not_hide_another)
{
	reading r = read_text(HEAD "\"titel\":1,\"hook\":\"big\",\"terms\":\"FR\"," PIECES);
	cr_expect_eq(tb_diagnostics_count_errors(r.faults), 3);
	cr_expect_eq(tb_pattern_count_pieces(r.pattern), 1, "what could be read is there");
	finish(&r);
}

Test(pattern_json, depth_and_size_are_bounded)
{
	g_autoptr(GString) deep = g_string_new("{\"title\":");
	for (int i = 0; i < 100000; i++)
		g_string_append_c(deep, '[');
	/* The object is one level, so the 32nd list is one too many. */
	expect_fault(deep->str, "json-depth", 1, 9 + TB_LIMIT_NESTING);
	g_autoptr(GString) large = g_string_new("{");
	while (large->len <= TB_LIMIT_PATTERN_BYTES)
		g_string_append(large, "                                                                ");
	expect_fault(large->str, "pattern-too-large", 1, TB_LIMIT_PATTERN_BYTES + 1);
}

Test(pattern_json, a_zero_byte_is_told)
{
	static const char text[] = "{\"format\":1,\0\"a\":1}";
	reading r = read_bytes(text, sizeof(text) - 1);
	cr_expect_null(r.pattern);
	cr_assert_eq(tb_diagnostics_count(r.faults), 1);
	cr_expect_str_eq(tb_diagnostics_get(r.faults, 0)->code, "text-encoding");
	cr_expect_eq(tb_diagnostics_get(r.faults, 0)->place.start, 12);
	finish(&r);
}

Test(pattern_json, a_text_cut_anywhere_is_an_error_and_no_crash)
{
	for (size_t length = 0; length + 1 < sizeof(whole) - 1; length++) {
		reading r = read_bytes(whole, length);
		cr_expect_gt(tb_diagnostics_count_errors(r.faults), 0, "cut at %zu", length);
		finish(&r);
	}
}
