/* Parts of a garment: what their names tell, and where an armhole begins. */
#ifndef TB_FABRIC_GARMENT_H
#define TB_FABRIC_GARMENT_H

#include "fabric/fabric.h"

/* Whether NAME, of a piece or of a part, has WORD in it, as "Left Sleeve" has sleeve. NAME may be NULL. */
bool tb_garment_is_called(const char *name, const char *word);

/* Whether NAME, of a part or of a piece, is an armhole, or begins at one as a yoke does. NAME may be NULL. */
bool tb_garment_is_of_armhole(const char *name);
/* The row below the first of an armhole in ROWS, the foundation first; TB_NONE where none shows. */
guint32 tb_garment_armhole(const tb_made_row *rows, guint32 count);

#endif
