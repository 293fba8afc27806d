/* Doing a command again whenever its pattern is saved. */
#include "command.h"

#include <gio/gio.h>
#include <glib-unix.h>
#include <stdio.h>

/* Editors write in several goes, or beside the file and rename: wait until it is quiet. */
#define QUIET_MS 120

typedef struct {
	GMainLoop *loop;
	int (*build)(void *data);
	void *data;
	guint due; /* the timeout that will build; 0 for none */
	int status;
} watching;

static gboolean build_again(gpointer user_data)
{
	watching *w = user_data;
	w->due = 0;
	w->status = w->build(w->data);
	/* A command line that is wrong stays wrong, however often the pattern is saved. */
	if (w->status == TB_EXIT_USAGE)
		g_main_loop_quit(w->loop);
	return G_SOURCE_REMOVE;
}

static void on_change(GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event,
	gpointer user_data)
{
	watching *w = user_data;
	/* Gone for a moment, or its times alone: nothing new to read. */
	if (event == G_FILE_MONITOR_EVENT_DELETED || event == G_FILE_MONITOR_EVENT_MOVED_OUT ||
		event == G_FILE_MONITOR_EVENT_ATTRIBUTE_CHANGED)
		return;
	if (w->due != 0)
		g_source_remove(w->due);
	w->due = g_timeout_add(QUIET_MS, build_again, w);
}

static gboolean on_interrupt(gpointer user_data)
{
	watching *w = user_data;
	w->status = TB_EXIT_DONE;
	g_main_loop_quit(w->loop);
	return G_SOURCE_CONTINUE;
}

int tb_watch(const char *path, int (*build)(void *data), void *data)
{
	watching w = {.build = build, .data = data};
	g_autoptr(GFile) file = g_file_new_for_commandline_arg(path);
	g_autoptr(GError) error = NULL;
	g_autoptr(GFileMonitor) monitor =
		g_file_monitor_file(file, G_FILE_MONITOR_WATCH_MOVES, NULL, &error);
	if (monitor == NULL) {
		fprintf(stderr, "tambour: cannot watch %s: %s\n", path, error->message);
		return TB_EXIT_FILE;
	}
	w.loop = g_main_loop_new(NULL, FALSE);
	g_signal_connect(monitor, "changed", G_CALLBACK(on_change), &w);
	guint interrupted = g_unix_signal_add(SIGINT, on_interrupt, &w);
	guint ended = g_unix_signal_add(SIGTERM, on_interrupt, &w);
	/* Within the loop, so that nothing saved from now on is missed. */
	g_idle_add(build_again, &w);
	g_main_loop_run(w.loop);
	g_source_remove(interrupted);
	g_source_remove(ended);
	if (w.due != 0)
		g_source_remove(w.due);
	g_main_loop_unref(w.loop);
	return w.status;
}
