#include "support.h"

char *tb_test_read(const char *path, gsize *length)
{
	g_autofree char *full = g_build_filename(TB_SOURCE_ROOT, path, NULL);
	g_autoptr(GError) error = NULL;
	char *text = NULL;
	if (!g_file_get_contents(full, &text, length, &error))
		g_error("%s", error->message);
	return text;
}

tb_case tb_case_read(const char *name, const char *text)
{
	tb_case c = {0};
	c.source = tb_source_create(name, text, strlen(text));
	c.library = tb_library_create();
	c.diagnostics = tb_diagnostics_create(c.source);
	c.pattern = tb_pattern_read(c.source, c.library, c.diagnostics);
	if (c.pattern != NULL)
		c.worked = tb_work(c.pattern, c.diagnostics);
	return c;
}

tb_case tb_case_file(const char *path)
{
	g_autofree char *text = tb_test_read(path, NULL);
	return tb_case_read(path, text);
}

static void append_string(GString *json, const char *text)
{
	g_string_append_c(json, '"');
	for (const char *c = text; *c != '\0'; c++) {
		if (*c == '"' || *c == '\\')
			g_string_append_c(json, '\\');
		g_string_append_c(json, *c);
	}
	g_string_append_c(json, '"');
}

tb_case tb_case_rows(const char *sizes, const char *start, const char *rows)
{
	g_autoptr(GString) json = g_string_new("{\"format\":1,\"title\":\"Test\",");
	if (sizes != NULL && *sizes != '\0') {
		g_auto(GStrv) names = g_strsplit(sizes, ",", -1);
		g_string_append(json, "\"sizes\":[");
		for (int i = 0; names[i] != NULL; i++) {
			g_string_append(json, i > 0 ? "," : "");
			append_string(json, g_strstrip(names[i]));
		}
		g_string_append(json, "],");
	}
	g_string_append(json, "\"gauge\":{\"stitches\":12,\"rows\":9,\"over\":\"10 cm\"},"
						  "\"pieces\":[{\"name\":\"Swatch\",\"start\":");
	append_string(json, start);
	g_string_append(json, ",\"rows\":[");
	g_auto(GStrv) lines = g_strsplit(rows, "\n", -1);
	bool first = true;
	for (int i = 0; lines[i] != NULL; i++) {
		if (*g_strstrip(lines[i]) == '\0')
			continue;
		g_string_append(json, first ? "\n" : ",\n");
		append_string(json, lines[i]);
		first = false;
	}
	g_string_append(json, "]}]}");
	return tb_case_read("test.json", json->str);
}

char *tb_case_faults(tb_case *c)
{
	return tb_diagnostics_format(c->diagnostics);
}

void tb_case_finish(tb_case *c)
{
	tb_worked_destroy(c->worked);
	tb_pattern_destroy(c->pattern);
	tb_diagnostics_destroy(c->diagnostics);
	tb_library_destroy(c->library);
	tb_source_destroy(c->source);
}
