/* The instruction tree as text, so that a test can compare the whole of it. */
#ifndef TB_TESTS_TREE_TEXT_H
#define TB_TESTS_TREE_TEXT_H

#include "notation/tree.h"

/* One line a sentence. Owned: g_free. */
char *tb_script_text(const tb_script *script);

#endif
