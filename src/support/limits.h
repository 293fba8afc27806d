/* Every limit on untrusted input, in one place. */
#ifndef TB_SUPPORT_LIMITS_H
#define TB_SUPPORT_LIMITS_H

#define TB_LIMIT_PATTERN_BYTES (4u * 1024u * 1024u)
#define TB_LIMIT_ROW_BYTES (64u * 1024u)
#define TB_LIMIT_NESTING 32u
#define TB_LIMIT_ROW_STITCHES 100000u
/* A piece is known by its name, and so are the pieces a chart is asked of. */
#define TB_LIMIT_PIECES 1000u
#define TB_LIMIT_CHARTS 1000u
#define TB_LIMIT_PIECE_ROWS 100000u
#define TB_LIMIT_ALL_STITCHES 20000000u
/* Nobody mends more faults than this before looking again. */
#define TB_LIMIT_FAULTS 500u
/* No number a pattern can mean is larger: a row ends at 100,000 stitches. */
#define TB_LIMIT_NUMBER 1000000

#endif
