/* All pieces of a pattern in all sizes: who works them fills it (rows/work.c). */
#ifndef TB_FABRIC_WORKED_H
#define TB_FABRIC_WORKED_H

#include "fabric/fabric.h"

struct tb_worked {
	const tb_pattern *pattern;
	unsigned pieces, sizes;
	tb_script **scripts; /* one a piece; rows point into them */
	tb_arena *arena; /* and into this: readings that were chosen */
	tb_fabric *fabrics; /* sizes of piece 0, sizes of piece 1, ... */
};

#endif
