/*
 * Where results go. For several patterns the name after -o holds {}, for which each pattern's own
 * name is put. Whatever can be known to go wrong is refused here, before anything is read or
 * written.
 */
#include "command.h"

#include <errno.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>

#define PLACE "{}"

const char *tb_outputs_extension(const char *path)
{
	if (strcmp(path, "-") == 0)
		return "svg";
	const char *slash = strrchr(path, '/');
	const char *point = strrchr(slash != NULL ? slash : path, '.');
	return point != NULL ? point + 1 : "";
}

bool tb_outputs_is_kind(const tb_command *command, const char *path)
{
	if (command->any_ending || strcmp(path, "-") == 0)
		return true;
	g_auto(GStrv) words = g_strsplit_set(command->endings, ", ", -1);
	for (char **word = words; *word != NULL; word++) {
		if (**word == '.' && g_ascii_strcasecmp(*word + 1, tb_outputs_extension(path)) == 0)
			return true;
	}
	return tb_complain("%s is written as %s, not '%s'", command->product, command->endings, path);
}

/* Without folder and last ending; a point in front is no ending's. */
static char *get_own_name(const char *path)
{
	char *name = g_path_get_basename(path);
	char *point = strrchr(name, '.');
	if (point != NULL && point != name)
		*point = '\0';
	return name;
}

static char *name_output(const char *output, const char *input)
{
	g_autofree char *name = get_own_name(input);
	GString *path = g_string_new(output);
	g_string_replace(path, PLACE, name, 0);
	return g_string_free(path, FALSE);
}

static bool check_places(const tb_command *command, const tb_options *options)
{
	bool named = strstr(options->output, PLACE) != NULL;
	bool several = options->inputs[1] != NULL;
	if (several && !named)
		return tb_complain("several patterns cannot all be written to '%s'; put {} for the name of "
			"each: -o 'out/{}%.*s'", options->output, (int)strcspn(command->endings, ","),
			command->endings);
	for (char **input = options->inputs; named && *input != NULL; input++) {
		if (strcmp(*input, "-") == 0)
			return tb_complain("standard input has no name to put for {}; name a file");
	}
	return true;
}

/* Which file a path stands for, whatever it is called; NULL where it is no plain file. Owned. */
static char *identify(const char *path)
{
	struct stat status;
	if (strcmp(path, "-") == 0 || stat(path, &status) != 0 || !S_ISREG(status.st_mode))
		return NULL;
	return g_strdup_printf("%ju:%ju", (uintmax_t)status.st_dev, (uintmax_t)status.st_ino);
}

static bool check_clash(const tb_options *options, char **outputs)
{
	g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
	for (unsigned i = 0; outputs[i] != NULL; i++) {
		const char *first = g_hash_table_lookup(seen, outputs[i]);
		if (first != NULL)
			return tb_complain("%s and %s would both be written to %s; nothing was written", first,
				options->inputs[i], outputs[i]);
		g_hash_table_insert(seen, outputs[i], options->inputs[i]);
	}
	return true;
}

static bool check_patterns_kept(const tb_options *options, char **outputs)
{
	g_autoptr(GHashTable) patterns = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	for (char **input = options->inputs; *input != NULL; input++) {
		char *file = identify(*input);
		if (file != NULL)
			g_hash_table_insert(patterns, file, *input);
	}
	for (char **output = outputs; *output != NULL; output++) {
		g_autofree char *file = identify(*output);
		const char *pattern = file != NULL ? g_hash_table_lookup(patterns, file) : NULL;
		if (pattern != NULL)
			return tb_complain("writing %s would lose the pattern %s; nothing was written", *output,
				pattern);
	}
	return true;
}

static bool check_folders(char **outputs)
{
	struct stat status;
	for (char **output = outputs; *output != NULL; output++) {
		g_autofree char *folder = g_path_get_dirname(*output);
		if (stat(folder, &status) != 0 && errno == ENOENT)
			return tb_complain("cannot write %s: there is no folder %s; make it first", *output,
				folder);
	}
	return true;
}

int tb_outputs_plan(const tb_command *command, const tb_options *options, char ***outputs)
{
	unsigned count = g_strv_length(options->inputs);
	*outputs = NULL;
	if (!check_places(command, options))
		return TB_EXIT_USAGE;
	g_auto(GStrv) planned = g_new0(char *, count + 1);
	for (unsigned i = 0; i < count; i++) {
		planned[i] = name_output(options->output, options->inputs[i]);
		if (!tb_outputs_is_kind(command, planned[i]))
			return TB_EXIT_USAGE;
	}
	if (!check_clash(options, planned) || !check_patterns_kept(options, planned))
		return TB_EXIT_USAGE;
	if (!check_folders(planned))
		return TB_EXIT_FILE;
	*outputs = g_steal_pointer(&planned);
	return TB_EXIT_DONE;
}
