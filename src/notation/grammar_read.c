/* The grammar's file as it stands: words, classes, rules and their phrases. */
#include "grammar_compile.h"

const char *path;
guint line_number;
names terms, rules, kinds, slots, symbols;
GPtrArray *titles, *phrases;
GArray *spellings, *most_words; /* most_words: guint by rule, 0 for no bound */
GHashTable *classes, *known_words, *lists, *eithers;

void refuse(const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	fprintf(stderr, "%s:%u: ", path, line_number);
	vfprintf(stderr, format, arguments);
	fputc('\n', stderr);
	va_end(arguments);
	exit(1);
}

void names_init(names *n)
{
	n->names = g_ptr_array_new();
	n->numbers = g_hash_table_new(g_str_hash, g_str_equal);
}

static int find(const names *n, const char *name)
{
	gpointer number;
	return g_hash_table_lookup_extended(n->numbers, name, NULL, &number) ?
		GPOINTER_TO_INT(number) : -1;
}

guint number_of(names *n, const char *name)
{
	int there = find(n, name);
	if (there >= 0)
		return (guint)there;
	char *copy = g_strdup(name);
	g_hash_table_insert(n->numbers, copy, GINT_TO_POINTER((int)n->names->len));
	g_ptr_array_add(n->names, copy);
	return n->names->len - 1;
}

static void add_spelling(guint term, int value, const char *text, guint in_terms)
{
	g_autofree char *words = tb_spelling_words(text);
	spelling s = {g_strdup(words), term, value, in_terms};
	if (*words == '\0')
		return;
	g_array_append_val(spellings, s);
	const char *last = strrchr(words, ' ') != NULL ? strrchr(words, ' ') + 1 : words;
	static const char *const no_plural[] = {"is", "as", "us", "this", "across", "plus", "of", "x", "s",
		"and", "in", "from", "with", "at", "on", "into", "onto", "the", "to", "or", "for", "by", "then",
		"so", "not", "but", "if", "both", "which", "that", "these", "those", "same", "until", "till",
		"without", "behind", "before", "after", "over", NULL};
	if (!g_ascii_isalpha(*last) || strlen(last) < 2 || g_strv_contains(no_plural, last) ||
		g_str_has_suffix(last, "ly"))
		return;
	bool es = strcmp(last, "ch") != 0 && (g_str_has_suffix(last, "ch") ||
		g_str_has_suffix(last, "sh") || g_str_has_suffix(last, "s") || g_str_has_suffix(last, "x"));
	s.spelling = g_strconcat(words, es ? "es" : "s", NULL);
	g_array_append_val(spellings, s);
}

/* The value of a class is a number where it is written as one. */
static int class_value(const char *text)
{
	return g_ascii_isdigit(*text) ? atoi(text) : (int)number_of(&symbols, text);
}

static void add_word_line(char *line)
{
	char *colon = strchr(line, ':');
	if (colon == NULL)
		refuse("no colon: %s", line);
	*colon = '\0';
	guint term = number_of(&terms, g_strstrip(line));
	int value = (int)number_of(&symbols, g_strstrip(line));
	g_hash_table_add(known_words, g_strdup(line));
	g_auto(GStrv) parts = g_strsplit(colon + 1, ",", -1);
	for (char **part = parts; *part != NULL; part++)
		add_spelling(term, value, g_strstrip(*part), 0);
}

static void add_class_line(const char *class, char *line, guint in_terms)
{
	g_autofree char *name = g_strconcat("<", class, NULL);
	guint term = number_of(&terms, name);
	char *equals = strchr(line, '=');
	const char *spelled = line;
	if (equals != NULL) {
		*equals = '\0';
		spelled = equals + 1;
	}
	g_auto(GStrv) parts = g_strsplit(spelled, ",", -1);
	for (char **part = parts; *part != NULL; part++) {
		const char *value = equals != NULL ? g_strstrip(line) : g_strstrip(*part);
		add_spelling(term, class_value(value), g_strstrip(*part), in_terms);
	}
}

static guint rule_number(const char *name, const char *title)
{
	guint number = number_of(&rules, name);
	while (titles->len <= number)
		g_ptr_array_add(titles, NULL);
	if (title != NULL)
		titles->pdata[number] = g_strdup(title);
	return number;
}

static symbol *add_symbol(phrase *p)
{
	symbol *s = g_new0(symbol, 1);
	s->slot = -1;
	s->terms = g_array_new(FALSE, FALSE, sizeof(guint));
	s->skips = g_array_new(FALSE, FALSE, sizeof(guint));
	g_ptr_array_add(p->symbols, s);
	return s;
}

/* "{x}", "{a:x}", "{x ...}" */
static void add_slot(phrase *p, const char *text)
{
	g_autofree char *inside = g_strndup(text + 1, strlen(text) - 2);
	char *colon = strchr(inside, ':');
	const char *what = colon != NULL ? colon + 1 : inside;
	if (colon != NULL)
		*colon = '\0';
	g_autofree char *name = g_strdup(inside);
	g_autofree char *target = g_strdup(what);
	if (g_str_has_suffix(target, " ...")) {
		target[strlen(target) - 4] = '\0';
		g_hash_table_add(lists, g_strdup(target));
		char *list = g_strconcat(target, "...", NULL);
		g_free(target);
		target = list;
		if (colon == NULL) {
			g_free(name);
			name = g_strdup(target);
		}
	}
	symbol *s = add_symbol(p);
	s->slot = (int)number_of(&slots, name);
	g_autofree char *class = g_strconcat("<", target, NULL);
	if (find(&rules, target) >= 0 || g_str_has_suffix(target, "...")) {
		s->is_rule = true;
		s->what = rule_number(target, NULL);
	} else if (g_hash_table_contains(classes, target) || g_hash_table_contains(known_words, target)) {
		guint term = number_of(&terms, g_hash_table_contains(classes, target) ? class : target);
		g_array_append_val(s->terms, term);
	} else {
		refuse("there is no rule, class or word %s", target);
	}
}

static void add_words(phrase *p, const char *text)
{
	symbol *s = add_symbol(p);
	g_auto(GStrv) parts = strcmp(text, "/") == 0 ? NULL : g_strsplit(text, "/", -1);
	const char *whole[] = {text, NULL};
	for (const char *const *part = parts != NULL ? (const char *const *)parts : whole;
		*part != NULL; part++) {
		guint term = number_of(&terms, *part);
		bool bracket = strcmp(*part, "(") == 0 || strcmp(*part, ")") == 0;
		if (!bracket && !g_hash_table_contains(known_words, *part)) {
			g_hash_table_add(known_words, g_strdup(*part));
			add_spelling(term, (int)number_of(&symbols, *part), *part, 0);
		}
		g_array_append_val(s->terms, term);
	}
}

static const char *const no_words[] = {NULL};

/* The words among the parts of "to/as/{in}", joined as they are written; "" for none. Owned. */
static char *words_among(char **parts)
{
	g_autoptr(GPtrArray) words = g_ptr_array_new();
	for (char **part = parts; *part != NULL; part++) {
		if (**part != '{')
			g_ptr_array_add(words, *part);
	}
	g_ptr_array_add(words, NULL);
	return g_strjoinv("/", words->len > 1 ? (char **)words->pdata : (char **)no_words);
}

/* "to/as/{in}": one of these. Classes are words of one kind more, and rules make a rule of its own of it. */
static void add_either(phrase *p, const char *text)
{
	g_auto(GStrv) parts = g_strsplit(text, "/", -1);
	g_autofree char *words = words_among(parts);
	bool rule = false;
	for (char **part = parts; *part != NULL; part++) {
		g_autofree char *inside = **part == '{' ? g_strndup(*part + 1, strlen(*part) - 2) : NULL;
		const char *colon = inside != NULL ? strchr(inside, ':') : NULL;
		rule = rule || (inside != NULL && find(&rules, colon != NULL ? colon + 1 : inside) >= 0);
	}
	if (rule) {
		symbol *s = add_symbol(p);
		s->is_rule = true;
		s->what = rule_number(text, "one of these");
		g_hash_table_add(eithers, g_strdup(text));
		return;
	}
	if (*words == '\0')
		refuse("classes alone are no words: %s", text);
	add_words(p, words);
	symbol *s = p->symbols->pdata[p->symbols->len - 1];
	for (char **part = parts; *part != NULL; part++) {
		g_autofree char *class = **part == '{' ? g_strdup_printf("<%.*s", (int)strlen(*part) - 2, *part + 1) : NULL;
		if (class == NULL)
			continue;
		bool known = g_hash_table_contains(classes, class + 1);
		if (!known && !g_hash_table_contains(known_words, class + 1))
			refuse("there is no rule, class or word %s", class + 1);
		guint term = number_of(&terms, known ? class : class + 1);
		g_array_append_val(s->terms, term);
	}
}

static void read_symbols(phrase *p)
{
	g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(guint));
	for (const char *c = p->text; *c != '\0';) {
		size_t length = 1;
		if (*c == ' ') {
			c++;
			continue;
		}
		if (*c == '{')
			length = strcspn(c, "}") + 1;
		else if (*c != '[' && *c != ']')
			length = strcspn(c, " []");
		/* "{in}/to" */
		length += *c == '{' && c[length] == '/' ? strcspn(c + length, " []") : 0;
		g_autofree char *token = g_strndup(c, length);
		c += length;
		if (strcmp(token, "[") == 0) {
			g_array_append_val(open, p->symbols->len);
		} else if (strcmp(token, "]") == 0) {
			if (open->len == 0)
				refuse("] without [");
			guint from = g_array_index(open, guint, open->len - 1);
			g_array_set_size(open, open->len - 1);
			if (from == p->symbols->len)
				refuse("empty brackets");
			g_array_append_val(((symbol *)p->symbols->pdata[from])->skips, p->symbols->len);
		} else if (strchr(token, '/') != NULL && strchr(token, '{') != NULL) {
			add_either(p, token);
		} else if (*token == '{') {
			add_slot(p, token);
		} else {
			add_words(p, token);
		}
	}
	if (open->len > 0)
		refuse("[ without ]");
}

static int slot_number(const char *text)
{
	g_autofree char *name = g_strndup(text + 1, strlen(text) - 2);
	int number = find(&slots, name);
	if (number < 0)
		refuse("no slot %s", name);
	return number;
}

static void add_build(phrase *p, guint op, guint field, int value)
{
	build b = {op, field, value};
	g_array_append_val(p->builds, b);
}

static void read_builder(phrase *p, const char *text)
{
	g_auto(GStrv) parts = g_strsplit(text, " ", -1);
	guint given = 0;
	p->kind = number_of(&kinds, "x");
	for (char **part = parts; *part != NULL; part++)
		given += **part != '\0' && **part != '~';
	bool has_kind = false;
	for (char **at = parts; *at != NULL; at++) {
		char *part = *at, *equals = strchr(part, '=');
		if (*part == '\0')
			continue;
		if (*part == '~') {
			p->cost = (guint)atoi(part + 1);
		} else if (strcmp(part, "[") == 0) {
			add_build(p, OP_LIST, 0, 0);
		} else if (*part == '{') {
			add_build(p, given == 1 ? OP_PASS : OP_SPREAD, !has_kind, slot_number(part));
			has_kind = true;
		} else if (g_str_has_prefix(part, "!same:")) {
			char *comma = strchr(part, ',');
			if (comma == NULL)
				refuse("!same takes two slots");
			*comma = '\0';
			add_build(p, OP_SAME, (guint)find(&slots, part + 6), find(&slots, comma + 1));
		} else if (strcmp(part, "!unbroken") == 0) {
			add_build(p, OP_UNBROKEN, 0, 0);
		} else if (g_str_has_prefix(part, "!parted:")) {
			add_build(p, OP_PARTED, 0, find(&slots, part + 8));
		} else if (equals != NULL) {
			*equals = '\0';
			guint field = number_of(&slots, part);
			const char *value = equals + 1;
			if (*value == '{')
				add_build(p, OP_SLOT, field, slot_number(value));
			else if (g_ascii_isdigit(*value) || *value == '-')
				add_build(p, OP_NUMBER, field, atoi(value));
			else
				add_build(p, OP_WORD, field, (int)number_of(&symbols, value));
		} else {
			p->kind = number_of(&kinds, part);
			has_kind = true;
		}
	}
}

static void add_phrase(const char *rule, const char *text, const char *builder, const char *example)
{
	phrase *p = g_new0(phrase, 1);
	p->rule = rule_number(rule, NULL);
	p->line = line_number;
	p->text = g_strstrip(g_strdup(text));
	p->example = g_strdup(example);
	p->symbols = g_ptr_array_new();
	p->builds = g_array_new(FALSE, FALSE, sizeof(build));
	read_symbols(p);
	read_builder(p, builder);
	g_ptr_array_add(phrases, p);
}

static void add_phrase_line(const char *rule, char *line)
{
	char *arrow = strstr(line, " => ");
	if (arrow == NULL || rule == NULL)
		refuse("no \"=>\": %s", line);
	*arrow = '\0';
	char *builder = arrow + 4, *bar = strstr(builder, " | ");
	if (bar != NULL)
		*bar = '\0';
	add_phrase(rule, line, builder, bar != NULL ? g_strstrip(bar + 3) : "");
}

/* What "to/as/{in}" may be. */
void add_choice(const char *text)
{
	g_auto(GStrv) parts = g_strsplit(text, "/", -1);
	g_autofree char *words = words_among(parts);
	if (*words != '\0')
		add_phrase(text, words, "x", "");
	for (char **part = parts; *part != NULL; part++) {
		const char *colon = **part == '{' ? strchr(*part, ':') : NULL;
		g_autofree char *slot = colon != NULL ? g_strconcat("{", colon + 1, NULL) : g_strdup(*part);
		if (**part == '{')
			add_phrase(text, slot, slot, "");
	}
}

/* A list of acts: one, or a list, what parts it, and one more. */
void add_list(const char *base)
{
	g_autofree char *rule = g_strconcat(base, "...", NULL);
	const char *title = titles->pdata[rule_number(base, NULL)];
	rule_number(rule, title != NULL ? title : base);
	g_autofree char *one = g_strdup_printf("{a:%s}", base);
	g_autofree char *more = g_strdup_printf("{l:%s} {s:sep} {a:%s}", rule, base);
	g_autofree char *close = g_strdup_printf("{l:%s} {a:%s}", rule, base);
	add_phrase(rule, one, "[ {a}", "");
	add_phrase(rule, more, "[ {l} {a}", "");
	add_phrase(rule, close, "[ {l} {a} ~6", "");
}

typedef enum { IN_NOTHING, IN_WORDS, IN_CLASS, IN_RULE } section_kind;

/* Two passes: names first, since a phrase may speak of a rule that stands further down. */
void read_file(char **lines, bool names_only)
{
	section_kind section = IN_NOTHING;
	g_autofree char *of = NULL;
	g_autoptr(GHashTable) told = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	guint in_terms = 0;
	for (line_number = 1; lines[line_number - 1] != NULL; line_number++) {
		g_autofree char *line = g_strchomp(g_strdup(lines[line_number - 1]));
		const char *first = line + strspn(line, " ");
		if (*first == '\0' || *first == '#')
			continue;
		if (*line != ' ') {
			g_auto(GStrv) word = g_strsplit(line, " ", 3);
			const char *which = word[1] != NULL && word[2] != NULL ? word[2] : "";
			g_clear_pointer(&of, g_free);
			if (strcmp(word[0], "words") == 0) {
				section = IN_WORDS;
			} else if (strcmp(word[0], "class") == 0 && word[1] != NULL) {
				section = IN_CLASS;
				in_terms = strcmp(which, "us") == 0 ? 1 : strcmp(which, "uk") == 0 ? 2 : 0;
				g_hash_table_add(classes, g_strdup(word[1]));
				of = g_strdup(word[1]);
			} else if (strcmp(word[0], "rule") == 0 && word[1] != NULL && *which == '"') {
				section = IN_RULE;
				of = g_strdup(word[1]);
				const char *end = strrchr(which, '"');
				if (end == which)
					refuse("no end of the title: %s", line);
				g_autofree char *title = g_strndup(which + 1, (gsize)(end - which) - 1);
				if (!g_hash_table_add(told, g_strdup(of)))
					refuse("there are two rules called %s", of);
				guint rule = rule_number(of, title), most = (guint)atoi(end + 1);
				if (most_words->len <= rule)
					g_array_set_size(most_words, rule + 1);
				g_array_index(most_words, guint, rule) = most;
			} else {
				refuse("what is this? %s", line);
			}
			continue;
		}
		g_autofree char *body = g_strdup(first);
		if (section == IN_RULE && !names_only)
			add_phrase_line(of, body);
		else if (section == IN_WORDS && names_only)
			add_word_line(body);
		else if (section == IN_CLASS && names_only)
			add_class_line(of, body, in_terms);
	}
}
