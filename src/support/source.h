/* A source's lines, for those who print them. */
#ifndef TB_SUPPORT_SOURCE_H
#define TB_SUPPORT_SOURCE_H

#include <tambour/diagnostics.h>

/* The bytes of line LINE (from 1), its line break not included. */
tb_span tb_source_line(const tb_source *source, unsigned line);

#endif
