/* The list of faults, as diagnostics.c fills it and format.c prints it. */
#ifndef TB_SUPPORT_DIAGNOSTICS_H
#define TB_SUPPORT_DIAGNOSTICS_H

#include <tambour/diagnostics.h>

struct tb_diagnostics {
	const tb_source *source;
	const char *const *size_names;
	unsigned size_count;
	GPtrArray *faults; /* tb_fault, owned; sorted when `sorted` is set */
	GHashTable *same; /* first tb_fault of each code, place and piece; borrowed */
	bool sorted;
	unsigned errors; /* all of them, also those past the limit */
	unsigned beyond; /* faults past the limit, not kept */
};

/* Sorts the list by place, then severity, then the order in which the faults were found. */
void tb_diagnostics_sort(tb_diagnostics *list);

#endif
