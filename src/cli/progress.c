/*
 * What is going on, for whoever waits at a terminal.
 *
 * A thread looks at what was last said, from a second after the start and ten times a second, and
 * rewrites one line; the work itself only leaves a word. The line is gone before anything else is
 * printed: whoever prints hides it first, and under the lock nothing can come between.
 */
#include "command.h"

#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define FIRST_AFTER (1 * G_TIME_SPAN_SECOND)
#define AGAIN_AFTER (G_TIME_SPAN_SECOND / 10)

/* Of a terminal that does not say how wide it is. */
#define USUAL_COLUMNS 80

struct tb_progress {
	GThread *thread;
	GMutex lock; /* of all below */
	GCond ended;
	bool over;
	char *pattern;    /* "3 of 200, scarf.txt" */
	const char *step; /* NULL: the line is hidden */
	bool fresh;       /* the line does not say it yet */
	bool shown;
};

/* Ink that reaches the last column would wrap, and could not be taken back. */
static unsigned get_room(void)
{
	struct winsize size;
	if (ioctl(STDERR_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0)
		return USUAL_COLUMNS - 1;
	return size.ws_col - 1;
}

static unsigned get_columns(gunichar c)
{
	return g_unichar_iszerowidth(c) ? 0 : g_unichar_iswide(c) ? 2 : 1;
}

/* As much of TEXT as ROOM columns hold. A file's name may be anything; it steers no terminal. */
static void append_fitting(GString *out, const char *text, unsigned room)
{
	g_autofree char *valid = g_utf8_make_valid(text, -1);
	for (const char *at = valid; *at != '\0'; at = g_utf8_next_char(at)) {
		gunichar c = g_utf8_get_char(at);
		if (g_unichar_iscntrl(c) || g_unichar_type(c) == G_UNICODE_FORMAT)
			c = '?';
		unsigned columns = get_columns(c);
		if (columns > room)
			break;
		room -= columns;
		g_string_append_unichar(out, c);
	}
}

static void put(const char *text)
{
	/* A line that cannot be shown is no reason to stop. */
	if (write(STDERR_FILENO, text, strlen(text)) < 0)
		return;
}

/* Not over the shoulder of what now has the terminal. */
static bool is_in_front(void)
{
	pid_t front = tcgetpgrp(STDERR_FILENO);
	return front < 0 || front == getpgrp();
}

static void show(tb_progress *p)
{
	g_autofree char *said = g_strdup_printf("%s: %s", p->pattern, p->step);
	g_autoptr(GString) line = g_string_new("\r");
	append_fitting(line, said, get_room());
	/* To the end of the line: what is left of a longer one. */
	g_string_append(line, "\033[K");
	put(line->str);
	p->shown = true;
	p->fresh = false;
}

static gpointer watch(gpointer data)
{
	tb_progress *p = data;
	gint64 next = g_get_monotonic_time() + FIRST_AFTER;
	g_mutex_lock(&p->lock);
	while (!p->over) {
		if (g_cond_wait_until(&p->ended, &p->lock, next))
			continue;
		if (p->fresh && p->step != NULL && is_in_front())
			show(p);
		next = g_get_monotonic_time() + AGAIN_AFTER;
	}
	g_mutex_unlock(&p->lock);
	return NULL;
}

tb_progress *tb_progress_begin(void)
{
	const char *terminal = g_getenv("TERM");
	if (!isatty(STDERR_FILENO) || terminal == NULL || *terminal == '\0' ||
		strcmp(terminal, "dumb") == 0)
		return NULL;
	tb_progress *p = g_new0(tb_progress, 1);
	g_mutex_init(&p->lock);
	g_cond_init(&p->ended);
	p->thread = g_thread_new("progress", watch, p);
	return p;
}

void tb_progress_pattern(tb_progress *p, unsigned number, unsigned count, const char *path)
{
	if (p == NULL)
		return;
	g_autofree char *name =
		strcmp(path, "-") == 0 ? g_strdup("standard input") : g_path_get_basename(path);
	g_mutex_lock(&p->lock);
	g_free(p->pattern);
	p->pattern = count > 1 ? g_strdup_printf("%u of %u, %s", number, count, name) : g_strdup(name);
	g_mutex_unlock(&p->lock);
	tb_progress_step(p, "reading");
}

void tb_progress_step(tb_progress *p, const char *step)
{
	if (p == NULL)
		return;
	g_mutex_lock(&p->lock);
	p->step = step;
	p->fresh = true;
	g_mutex_unlock(&p->lock);
}

void tb_progress_hide(tb_progress *p)
{
	if (p == NULL)
		return;
	g_mutex_lock(&p->lock);
	p->step = NULL;
	if (p->shown)
		put("\r\033[K");
	p->shown = false;
	g_mutex_unlock(&p->lock);
}

void tb_progress_end(tb_progress *p)
{
	if (p == NULL)
		return;
	tb_progress_hide(p);
	g_mutex_lock(&p->lock);
	p->over = true;
	g_cond_signal(&p->ended);
	g_mutex_unlock(&p->lock);
	g_thread_join(p->thread);
	g_cond_clear(&p->ended);
	g_mutex_clear(&p->lock);
	g_free(p->pattern);
	g_free(p);
}
