/*
 * What every header of the library begins with: GLib's types, and the two words that frame
 * declarations. You need not include it yourself.
 */
#ifndef TAMBOUR_API_H
#define TAMBOUR_API_H

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

/*
 * Around declarations: they are C, also for a C++ compiler, and what they declare can be linked to.
 * Everything else in the library is compiled hidden.
 */
#ifdef __GNUC__
#define TB_BEGIN_DECLS G_BEGIN_DECLS _Pragma("GCC visibility push(default)")
#define TB_END_DECLS _Pragma("GCC visibility pop") G_END_DECLS
#else
#define TB_BEGIN_DECLS G_BEGIN_DECLS
#define TB_END_DECLS G_END_DECLS
#endif

#endif
