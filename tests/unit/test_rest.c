/*
 * Cloth at rest, piece by piece: how the stitches of ordinary things lie when they are charted. A stem is square to the
 * row it stands on and as tall as its stitch, plain neighbours are evenly apart, nothing crosses or touches, and what
 * the fabric has of itself again comes out alike. Where one of the bounds cannot be had, the piece says why.
 */
#include "labels.h"
#include "lying.h"
#include "paper.h"

#include <criterion/criterion.h>
#include <math.h>

/* The bounds that hold for everything: degrees, parts of a stitch's height, deviation by mean. */
#define LEAN_MIDDLE 5.0
#define LEAN_MOST 15.0
#define STRETCH_LEAST 0.85
#define STRETCH_MOST 1.3
#define SPACING 0.1
#define UNLIKE 0.01

typedef struct {
	const char *name, *start, *rows;
	unsigned turns; /* around its middle; 0 for 1 */
	bool mirror;    /* it is its own mirror image */
	/* … in place of those above; 0 for none */
	double lean_middle, lean_most, stretch_least, stretch_most, spacing;
} piece;

static const piece pieces[] = {
	{
		.name = "disc dc", .start = "Ch 4, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in same st, dc in next st, *2 dc in next st, dc in next st; rep from * "
			"around, join with sl st in top of ch-3.\n"
			"Rnd 4: Ch 3 (counts as dc), dc in same st, dc in next 2 sts, *2 dc in next st, dc in next 2 sts; rep "
			"from * around, join with sl st in top of ch-3.\n"
			"Rnd 5: Ch 3 (counts as dc), dc in same st, dc in next 3 sts, *2 dc in next st, dc in next 3 sts; rep "
			"from * around, join with sl st in top of ch-3.\n"
			"Rnd 6: Ch 3 (counts as dc), dc in same st, dc in next 4 sts, *2 dc in next st, dc in next 4 sts; rep "
			"from * around, join with sl st in top of ch-3.",
		.turns = 12,
	},
	{
		.name = "disc sc", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 1, 6 sc in ring, join with sl st in first sc.\n"
			"Rnd 2: Ch 1, 2 sc in each st around, join with sl st in first sc.\n"
			"Rnd 3: Ch 1, *sc in next st, 2 sc in next st; rep from * around, join with sl st in first sc.\n"
			"Rnd 4: Ch 1, *sc in next 2 sts, 2 sc in next st; rep from * around, join with sl st in first sc.\n"
			"Rnd 5: Ch 1, *sc in next 3 sts, 2 sc in next st; rep from * around, join with sl st in first sc.\n"
			"Rnd 6: Ch 1, *sc in next 4 sts, 2 sc in next st; rep from * around, join with sl st in first sc.\n"
			"Rnd 7: Ch 1, *sc in next 5 sts, 2 sc in next st; rep from * around, join with sl st in first sc.",
		/* Its increases stand above one another and ask for corners; held round, the stitches between them lean. */
		.turns = 6, .lean_middle = 7.5,
	},
	{
		.name = "disc hdc", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 2 (counts as hdc), 7 hdc in ring, join with sl st in top of ch-2.\n"
			"Rnd 2: Ch 2 (counts as hdc), hdc in same st, 2 hdc in each st around, join with sl st in top of ch-2.\n"
			"Rnd 3: Ch 2 (counts as hdc), hdc in same st, hdc in next st, *2 hdc in next st, hdc in next st; rep "
			"from * around, join with sl st in top of ch-2.\n"
			"Rnd 4: Ch 2 (counts as hdc), hdc in same st, hdc in next 2 sts, *2 hdc in next st, hdc in next 2 sts; "
			"rep from * around, join with sl st in top of ch-2.\n"
			"Rnd 5: Ch 2 (counts as hdc), hdc in same st, hdc in next 3 sts, *2 hdc in next st, hdc in next 3 sts; "
			"rep from * around, join with sl st in top of ch-2.",
		/* Its increases stand above one another and ask for corners; held round, the stitches between them lean. */
		.turns = 8, .lean_middle = 5.5,
	},
	{
		.name = "oval sc", .start = "Ch 9.",
		.rows = "Rnd 1: Sc in 2nd ch from hook, sc in next 6 ch, 3 sc in last ch, working along opposite side of "
			"foundation ch, sc in next 6 ch, 2 sc in last ch, join with sl st in first sc. [18 sc]\n"
			"Rnd 2: Ch 1, 2 sc in first st, sc in next 6 sts, 2 sc in each of next 3 sts, sc in next 6 sts, 2 sc in "
			"each of last 2 sts, join with sl st in first sc. [24 sc]\n"
			"Rnd 3: Ch 1, sc in first st, 2 sc in next st, sc in next 6 sts, [sc in next st, 2 sc in next st] 3 "
			"times, sc in next 6 sts, [sc in next st, 2 sc in next st] 2 times, join with sl st in first sc. [30 sc]",
		.turns = 2,
	},
	{
		.name = "oval dc", .start = "Ch 12.",
		.rows = "Rnd 1: Dc in 4th ch from hook, dc in next 7 ch, 6 dc in last ch, working along opposite side of "
			"foundation ch, dc in next 7 ch, 4 dc in last ch, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in next st, dc in next 7 sts, 2 dc in each of next 6 "
			"sts, dc in next 7 sts, 2 dc in each of last 4 sts, join with sl st in top of ch-3.",
		/* The ends' stitches stand on one chain each: room for them comes from taller stems, at most so much. */
		.turns = 2, .stretch_most = 1.31,
	},
	{
		.name = "square sc", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 1, 8 sc in ring, join with sl st in first sc.\n"
			"Rnd 2: Ch 1, *sc in next st, 3 sc in next st; rep from * around, join with sl st in first sc.\n"
			"Rnd 3: Ch 1, *sc in next 2 sts, 3 sc in next st, sc in next st; rep from * around, join with sl st in "
			"first sc.\n"
			"Rnd 4: Ch 1, *sc in next 3 sts, 3 sc in next st, sc in next 2 sts; rep from * around, join with sl st "
			"in first sc.",
		.turns = 4, .mirror = true,
	},
	{
		.name = "square dc", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl st in top of "
			"ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in next 2 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 3 sts, (2 "
			"dc, ch 2, 2 dc) in next ch-2 sp] 3 times, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in next 4 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 7 sts, (2 "
			"dc, ch 2, 2 dc) in next ch-2 sp] 3 times, dc in last 2 sts, join with sl st in top of ch-3.",
		.turns = 4, .mirror = true,
	},
	{
		.name = "granny", .start = "Ch 4, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl st in top of "
			"ch-3.\n"
			"Rnd 2: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, "
			"ch 1, [(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1] 3 times, join with sl st in top of ch-3.\n"
			"Rnd 3: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, "
			"ch 1, 3 dc in next ch-1 sp, ch 1, [(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch "
			"1] 3 times, join with sl st in top of ch-3.\n"
			"Rnd 4: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, "
			"ch 1, [3 dc in next ch-1 sp, ch 1] 2 times, [(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, [3 dc in next "
			"ch-1 sp, ch 1] 2 times] 3 times, join with sl st in top of ch-3.",
		.turns = 4, .mirror = true,
	},
	{
		.name = "hexagon", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), dc in ring, ch 1, [2 dc in ring, ch 1] 5 times, join with sl st in top of "
			"ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in next st, (dc, ch 1, dc) in next ch-1 sp, [dc in next 2 sts, (dc, ch "
			"1, dc) in next ch-1 sp] 5 times, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in next 2 sts, (dc, ch 1, dc) in next ch-1 sp, [dc in next 4 sts, (dc, "
			"ch 1, dc) in next ch-1 sp] 5 times, dc in last st, join with sl st in top of ch-3.\n"
			"Rnd 4: Ch 3 (counts as dc), dc in next 3 sts, (dc, ch 1, dc) in next ch-1 sp, [dc in next 6 sts, (dc, "
			"ch 1, dc) in next ch-1 sp] 5 times, dc in last 2 sts, join with sl st in top of ch-3.",
		.turns = 6, .mirror = true,
	},
	{
		.name = "hexagon granny", .start = "Ch 5, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), dc in ring, ch 1, [2 dc in ring, ch 1] 5 times, join with sl st in top of "
			"ch-3.\n"
			"Rnd 2: Sl st in next st, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp, [(2 "
			"dc, ch 2, 2 dc) in next ch-1 sp] 5 times, join with sl st in top of ch-3.\n"
			"Rnd 3: Sl st in next st, sl st in next ch-2 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp, ch 1, "
			"[(2 dc, ch 2, 2 dc) in next ch-2 sp, ch 1] 5 times, join with sl st in top of ch-3.",
		/* Its first round is crowded: twelve dc and six chains out of a ring of five. */
		.turns = 6, .mirror = true, .stretch_least = 0.81,
	},
	{
		.name = "half disc", .start = "Make a magic ring.",
		.rows = "Row 1 (RS): Ch 3 (counts as dc), 6 dc in ring, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), dc in first st, 2 dc in each st across, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), sk first st, 2 dc in next st, *dc in next st, 2 dc in next st; rep "
			"from * across, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), dc in first st, dc in next 2 sts, *2 dc in next st, dc in next 2 sts; "
			"rep from * across.",
	},
	{
		.name = "shawl from the middle", .start = "Ch 4, join with sl st to form a ring.",
		.rows = "Row 1 (RS): Ch 3 (counts as dc), 2 dc in ring, ch 2, 3 dc in ring, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), dc in first st, dc in next 2 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 2 sts, 2 dc in top of tch, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), dc in first st, dc in next 5 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 5 sts, 2 dc in top of tch, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), dc in first st, dc in next 8 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 8 sts, 2 dc in top of tch, turn.\n"
			"Row 5 (RS): Ch 3 (counts as dc), dc in first st, dc in next 11 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 11 sts, 2 dc in top of tch, turn.\n"
			"Row 6 (WS): Ch 3 (counts as dc), dc in first st, dc in next 14 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 14 sts, 2 dc in top of tch, turn.\n"
			"Row 7 (RS): Ch 3 (counts as dc), dc in first st, dc in next 17 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, "
			"dc in next 17 sts, 2 dc in top of tch, turn.",
		/* Three stitches in a quarter of a ring, and four in the point, are wider than the place they have. */
		.mirror = true, .stretch_least = 0.79,
	},
	{
		.name = "shawl from one edge", .start = "Ch 5.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in last ch, turn. [3 dc]\n"
			"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st to last st, 2 dc in last st, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), dc in first st, dc in each st across, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), sk first st, dc in each st to last st, 2 dc in last st, turn.\n"
			"Row 5 (RS): Ch 3 (counts as dc), dc in first st, dc in each st across, turn.\n"
			"Row 6 (WS): Ch 3 (counts as dc), sk first st, dc in each st to last st, 2 dc in last st, turn.\n"
			"Row 7 (RS): Ch 3 (counts as dc), dc in first st, dc in each st across, turn.\n"
			"Row 8 (WS): Ch 3 (counts as dc), sk first st, dc in each st to last st, 2 dc in last st, turn.",
	},
	{
		.name = "shawl in sc", .start = "Ch 2.",
		.rows = "Row 1: 3 sc in 2nd ch from hook, turn.\n"
			"Row 2: Ch 1, 2 sc in first st, sc in next st, 2 sc in last st, turn.\n"
			"Row 3: Ch 1, 2 sc in first st, sc in next 3 sts, 2 sc in last st, turn.\n"
			"Row 4: Ch 1, 2 sc in first st, sc in next 5 sts, 2 sc in last st, turn.\n"
			"Row 5: Ch 1, 2 sc in first st, sc in next 7 sts, 2 sc in last st, turn.\n"
			"Row 6: Ch 1, 2 sc in first st, sc in next 9 sts, 2 sc in last st, turn.\n"
			"Row 7: Ch 1, 2 sc in first st, sc in next 11 sts, 2 sc in last st, turn.\n"
			"Row 8: Ch 1, 2 sc in first st, sc in next 13 sts, 2 sc in last st, turn.",
		.mirror = true,
	},
	{
		.name = "raglan", .start = "Ch 42.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in next 4 ch, (dc, ch 1, dc) in next ch, dc in next 6 ch, (dc, "
			"ch 1, dc) in next ch, dc in next 12 ch, (dc, ch 1, dc) in next ch, dc in next 6 ch, (dc, ch 1, dc) in "
			"next ch, dc in last 6 ch, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), sk first st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in next "
			"ch-1 sp; rep from * 3 more times, dc in each st across, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), sk first st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in next "
			"ch-1 sp; rep from * 3 more times, dc in each st across, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), sk first st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in next "
			"ch-1 sp; rep from * 3 more times, dc in each st across, turn.\n"
			"Row 5 (RS): Ch 3 (counts as dc), sk first st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in next "
			"ch-1 sp; rep from * 3 more times, dc in each st across, turn.",
		.mirror = true,
	},
	{
		.name = "yoke", .start = "Ch 30, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), dc in next ch and in each ch around, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in next st, 2 dc in next st, *dc in next 2 sts, 2 dc in next st; rep "
			"from * around, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in each st around, join with sl st in top of ch-3.\n"
			"Rnd 4: Ch 3 (counts as dc), dc in next 2 sts, 2 dc in next st, *dc in next 3 sts, 2 dc in next st; rep "
			"from * around, join with sl st in top of ch-3.",
		.turns = 10,
	},
	{
		.name = "hat in posts", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in same st, dc in next st, *2 dc in next st, dc in next st; rep from * "
			"around, join with sl st in top of ch-3.\n"
			"Rnd 4: Ch 3 (counts as dc), *FPdc around next st, dc in next st; rep from * to last st, FPdc around "
			"last st, join with sl st in top of ch-3.\n"
			"Rnd 5: Ch 3 (counts as dc), *FPdc around next st, dc in next st; rep from * to last st, FPdc around "
			"last st, join with sl st in top of ch-3.",
		.turns = 12,
	},
	{
		/* Every second row grows, at four places: the neck bends for both. */
		.name = "coat yoke", .start = "Ch 27.",
		.rows = "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
			"Row 2: Ch 1, sc in next 4 sts, 3 sc in next st, sc in next 4 sts, 3 sc in next st, sc in next 6 sts, 3 sc in next st, "
			"sc in next 4 sts, 3 sc in next st, sc in last 4 sts, turn.\n"
			"Row 3: Ch 1, sc in each st across, turn.\n"
			"Row 4: Ch 1, sc in next 5 sts, 3 sc in next st, sc in next 6 sts, 3 sc in next st, sc in next 8 sts, 3 sc in next st, "
			"sc in next 6 sts, 3 sc in next st, sc in last 5 sts, turn.\n"
			"Row 5: Ch 1, sc in each st across, turn.\n"
			"Row 6: Ch 1, sc in next 6 sts, 3 sc in next st, sc in next 8 sts, 3 sc in next st, sc in next 10 sts, 3 sc in next "
			"st, sc in next 8 sts, 3 sc in next st, sc in last 6 sts, turn.\n"
			"Row 7: Ch 1, sc in each st across.",
		.mirror = true,
	},
	{
		/* A neck, and what grows from its four corners for fourteen rounds: sleeves are narrower than front and back. */
		.name = "raglan", .start = "Ch 56, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), dc in next 17 ch, (dc, ch 2, dc) in next ch, dc in next 8 ch, (dc, ch 2, dc) in "
			"next ch, dc in next 18 ch, (dc, ch 2, dc) in next ch, dc in next 8 ch, (dc, ch 2, dc) in last ch, join with sl st "
			"in top of ch-3.\n"
			"Rnds 2-14: Ch 3 (counts as dc), dc in each dc to next ch-2 sp, *(dc, ch 2, dc) in ch-2 sp, dc in each dc to next "
			"ch-2 sp; rep from * 2 more times, (dc, ch 2, dc) in last ch-2 sp, dc in each dc to end, join with sl st in top of "
			"ch-3.",
		/* Those beside a corner stand in its angle. */
		.turns = 2, .mirror = true, .stretch_least = 0.76,
	},
	{
		.name = "toy", .start = "Make a magic ring.",
		.rows = "Rnd 1: 6 sc in ring.\n"
			"Rnd 2: 2 sc in each st around.\n"
			"Rnd 3: *Sc in next st, 2 sc in next st; rep from * around.\n"
			"Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around.\n"
			"Rnds 5-6: Sc in each st around.\n"
			"Rnd 7: *Sc in next 2 sts, sc2tog; rep from * around.",
		/* A tube opens beside what it draws together: all stands above what it is worked into. */
		.spacing = 0.16,
	},
	{
		.name = "ripple sc", .start = "Ch 29.",
		.rows = "Row 1 (RS): 2 sc in 2nd ch from hook, sc in next 3 ch, sk 2 ch, sc in next 3 ch, *3 sc in next ch, sc "
			"in next 3 ch, sk 2 ch, sc in next 3 ch; rep from * to last ch, 2 sc in last ch, turn.\n"
			"Row 2: Ch 1, 2 sc in first st, sc in next 3 sts, sk 2 sts, sc in next 3 sts, *3 sc in next st, sc in "
			"next 3 sts, sk 2 sts, sc in next 3 sts; rep from * to last st, 2 sc in last st, turn.\n"
			"Row 3: Ch 1, 2 sc in first st, sc in next 3 sts, sk 2 sts, sc in next 3 sts, *3 sc in next st, sc in "
			"next 3 sts, sk 2 sts, sc in next 3 sts; rep from * to last st, 2 sc in last st, turn.\n"
			"Row 4: Ch 1, 2 sc in first st, sc in next 3 sts, sk 2 sts, sc in next 3 sts, *3 sc in next st, sc in "
			"next 3 sts, sk 2 sts, sc in next 3 sts; rep from * to last st, 2 sc in last st, turn.\n"
			"Row 5: Ch 1, 2 sc in first st, sc in next 3 sts, sk 2 sts, sc in next 3 sts, *3 sc in next st, sc in "
			"next 3 sts, sk 2 sts, sc in next 3 sts; rep from * to last st, 2 sc in last st, turn.",
		/* Skipped stitches draw the valleys in by two columns over so little height that the stems between must lean. */
		.mirror = true, .lean_middle = 10, .lean_most = 20.5,
	},
	{
		.name = "ripple dc", .start = "Ch 39.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook, dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch, 2 dc in next "
			"ch, *2 dc in next ch, dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch, 2 dc in next ch; rep from * "
			"across, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), dc in first st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, "
			"2 dc in next st, *2 dc in next st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, 2 dc in next "
			"st; rep from * across, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), dc in first st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, "
			"2 dc in next st, *2 dc in next st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, 2 dc in next "
			"st; rep from * across, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), dc in first st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, "
			"2 dc in next st, *2 dc in next st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, 2 dc in next "
			"st; rep from * across, turn.",
		.mirror = true,
	},
	{
		.name = "fan 7", .start = "Ch 26.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, *sk 3 ch, 7 dc in next ch, sk 3 ch, sc in next ch; rep from * "
			"across, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), 3 dc in first sc, *sk 3 dc, sc in next dc, sk 3 dc, 7 dc in next sc; "
			"rep from * to last 8 sts, sk 3 dc, sc in next dc, sk 3 dc, 4 dc in last sc, turn.\n"
			"Row 3 (RS): Ch 1, sc in first dc, *sk 3 dc, 7 dc in next sc, sk 3 dc, sc in next dc; rep from * across, "
			"turn.",
		.mirror = true,
	},
	{
		.name = "fan 9", .start = "Ch 32.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, *sk 4 ch, 9 dc in next ch, sk 4 ch, sc in next ch; rep from * "
			"across, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), 4 dc in first sc, *sk 4 dc, sc in next dc, sk 4 dc, 9 dc in next sc; "
			"rep from * to last 10 sts, sk 4 dc, sc in next dc, sk 4 dc, 5 dc in last sc, turn.\n"
			"Row 3 (RS): Ch 1, sc in first dc, *sk 4 dc, 9 dc in next sc, sk 4 dc, sc in next dc; rep from * across, "
			"turn.",
		.mirror = true,
	},
	{
		.name = "v and shell", .start = "Ch 26.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; rep from * "
			"across, turn.\n"
			"Row 2 (WS): Ch 4 (counts as dc and ch 1), dc in first sc, *ch 2, sk 2 dc, sc in next dc, ch 2, sk 2 dc, "
			"(dc, ch 1, dc) in next sc; rep from * across, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), 2 dc in next ch-1 sp, sc in next sc, [5 dc in next ch-1 sp, sc in next "
			"sc] 3 times, 3 dc in last ch-1 sp, turn.",
		.mirror = true,
	},
	{
		.name = "net", .start = "Ch 26.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, *ch 5, sk 3 ch, sc in next ch; rep from * across, turn.\n"
			"Row 2 (WS): Ch 5 (counts as dc and ch 2), sc in next ch-5 sp, *ch 5, sc in next ch-5 sp; rep from * "
			"across, ch 2, dc in last sc, turn.\n"
			"Row 3 (RS): Ch 1, sc in first dc, ch 5, *sc in next ch-5 sp, ch 5; rep from * across, sc in last dc, "
			"turn.",
		.mirror = true,
	},
	{
		.name = "pineapple", .start = "Ch 8, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 23 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 1, sc in same st, *ch 4, sk 3 sts, sc in next st; rep from * around, ch 4, join with sl st in "
			"first sc.\n"
			"Rnd 3: Sl st in next ch-4 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp, ch 1, 6 tr in next ch-4 "
			"sp, ch 1, [(2 dc, ch 2, 2 dc) in next ch-4 sp, ch 1, 6 tr in next ch-4 sp, ch 1] 2 times, join with sl "
			"st in top of ch-3.\n"
			"Rnd 4: Sl st in next dc and in next ch-2 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp, ch 1, sc "
			"in next tr, [ch 3, sc in next tr] 5 times, ch 1, [(2 dc, ch 2, 2 dc) in next ch-2 sp, ch 1, sc in next "
			"tr, [ch 3, sc in next tr] 5 times, ch 1] 2 times, join with sl st in top of ch-3.\n"
			"Rnd 5: Sl st in next dc and in next ch-2 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp, ch 3, sc "
			"in next ch-3 sp, [ch 3, sc in next ch-3 sp] 4 times, ch 3, [(2 dc, ch 2, 2 dc) in next ch-2 sp, ch 3, "
			"sc in next ch-3 sp, [ch 3, sc in next ch-3 sp] 4 times, ch 3] 2 times, join with sl st in top of ch-3.",
		/* Six tr in a space of four chains, beside shells that are lower: the outermost are pressed. */
		.turns = 3, .mirror = true, .stretch_least = 0.77,
	},
	{
		.name = "sleeve", .start = "Ch 26.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc2tog, dc in each st to last 3 sts, dc2tog, dc in last "
			"st, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in each st across, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), sk first st, dc2tog, dc in each st to last 3 sts, dc2tog, dc in last "
			"st, turn.\n"
			"Row 5 (RS): Ch 3 (counts as dc), sk first st, dc in each st across, turn.\n"
			"Row 6 (WS): Ch 3 (counts as dc), sk first st, dc2tog, dc in each st to last 3 sts, dc2tog, dc in last "
			"st, turn.\n"
			"Row 7 (RS): Ch 3 (counts as dc), sk first st, dc in each st across, turn.\n"
			"Row 8 (WS): Ch 3 (counts as dc), sk first st, dc2tog, dc in each st to last 3 sts, dc2tog, dc in last "
			"st, turn.",
		.mirror = true,
	},
	{
		.name = "armhole", .start = "Ch 26.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn. [24 sts]\n"
			"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [24 sts]\n"
			"Row 3 (RS): Sl st in first 4 sts, ch 3 (counts as dc), sk st at base of ch, dc in each st to last 4 "
			"sts, leave rem sts unworked, turn.\n"
			"Row 4 (WS): Ch 3 (counts as dc), sk first st, dc2tog, dc in each st to last 3 sts, dc2tog, dc in last "
			"st, turn.\n"
			"Row 5 (RS): Ch 3 (counts as dc), sk first st, dc in each st across, turn.",
	},
	{
		.name = "clusters", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 2 (does not count as st), *3-dc cl in next st, ch 2; rep from * around, join with sl st in "
			"first cl.\n"
			"Rnd 3: Ch 1, *3 sc in next ch-2 sp; rep from * around, join with sl st in first sc.",
		.turns = 12, .mirror = true,
	},
	{
		.name = "cluster disc", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 1, 8 sc in ring, join with sl st in first sc.\n"
			"Rnd 2: Ch 3 (does not count as st), *3-dc cl in next st, ch 3; rep from * around, join with sl st in "
			"first cl.\n"
			"Rnd 3: Ch 1, *4 sc in next ch-3 sp; rep from * around, join with sl st in first sc.",
		.turns = 8, .mirror = true,
	},
	{
		.name = "picots", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 1, *sc in next 3 sts, ch 3, sl st in 3rd ch from hook; rep from * around, join with sl st in "
			"first sc.",
		.turns = 12, .mirror = true,
	},
	{
		.name = "spikes", .start = "Ch 14.",
		.rows = "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
			"Row 2: Ch 1, sc in each st across, turn.\n"
			"Row 3: Ch 1, *sc in next 2 sts, spike sc 2 rows below; rep from * to last st, sc in last st, turn.\n"
			"Row 4: Ch 1, sc2tog, sc in each st across.",
	},
	{
		.name = "doily", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 15 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 4 (counts as dc and ch 1), *dc in next st, ch 1; rep from * around, join with sl st in 3rd ch "
			"of ch-4.\n"
			"Rnd 3: Sl st in next ch-1 sp, ch 1, sc in same sp, *ch 4, sc in next ch-1 sp; rep from * around, ch 4, "
			"join with sl st in first sc.\n"
			"Rnd 4: Sl st in next 2 ch, ch 1, sc in same sp, *ch 5, sc in next ch-4 sp; rep from * around, ch 5, "
			"join with sl st in first sc.",
		.turns = 16, .mirror = true,
	},
	{
		.name = "wings", .start = "Ch 12.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn. [10 sts]\n"
			"Row 2 (WS): Ch 3 (does not count as st), 2 dc in first st, dc in each st to last st, 2 dc in last st, turn. "
			"[12 sts]\n"
			"Row 3 (RS): Ch 3 (does not count as st), 3 dc in first st, dc in each st to last st, 3 dc in last st, turn. "
			"[16 sts]\n"
			"Row 4 (WS): Ch 3 (does not count as st), 3 dc in first st, dc in each st to last st, 3 dc in last st. "
			"[20 sts]",
		.mirror = true,
	},
	{
		.name = "flag", .start = "Ch 2.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, turn. [1 sc]\n"
			"Row 2 (WS): Ch 1, 3 sc in first st, turn. [3 sc]\n"
			"Row 3 (RS): Ch 1, sc in each st across, turn. [3 sc]\n"
			"Row 4 (WS): Ch 1, 2 sc in first st, sc in next st, 2 sc in last st, turn. [5 sc]\n"
			"Row 5 (RS): Ch 1, sc in each st across. [5 sc]",
		.mirror = true,
	},
	{
		.name = "heel", .start = "Ch 17.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [16 sc]\n"
			"Row 2 (WS): Ch 1, sc in next 12 sts, leave rem sts unworked, turn. [12 sc]\n"
			"Row 3 (RS): Ch 1, sc in next 8 sts, leave rem sts unworked, turn. [8 sc]\n"
			"Row 4 (WS): Ch 1, sc in each of next 8 sts, sc in next 4 sts. [12 sc]",
	},
	{
		.name = "petals in spaces", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 1, 12 sc in ring, join with sl st in first sc. [12 sc]\n"
			"Rnd 2: Ch 1, sc in same st, *ch 3, sk next st, sc in next st; rep from * 4 more times, ch 3, sk last st, join "
			"with sl st in first sc.\n"
			"Rnd 3: *(Sl st, ch 1, hdc, 3 dc, hdc, ch 1, sl st) in next ch-3 sp; rep from * around. Fasten off.",
		.turns = 6, .mirror = true,
	},
	{
		.name = "covered loops", .start = "Ch 8, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 15 dc in ring, join with sl st in top of ch-3. [16 sts]\n"
			"Rnd 2: Ch 1, sc in same st, sc in next st, ch 5, *sc in next 2 sts, ch 5; rep from * around, join with sl st in "
			"first sc.\n"
			"Rnd 3: Sl st in next sc and in next ch-5 sp, ch 1, 7 sc in same sp, *7 sc in next ch-5 sp; rep from * around, "
			"join with sl st in first sc. Fasten off.",
		/* The two sc between arcs lean with them; all others that are measured are of the first round. */
		.turns = 8, .mirror = true, .lean_middle = 16, .lean_most = 17,
	},
	{
		.name = "fans and pleats", .start = "Ch 32.",
		.rows = "Row 1 (RS): 2 dc in 4th ch from hook, *[dc3tog over next 3 ch] 2 times, 5 dc in next ch; rep from * 2 more "
			"times, [dc3tog over next 3 ch] 2 times, 3 dc in last ch, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), 2 dc in first st, *[dc3tog over next 3 sts] 2 times, 5 dc in next st; rep from "
			"* 2 more times, [dc3tog over next 3 sts] 2 times, 3 dc in last st, turn.\n"
			"Row 3 (RS): Ch 3 (counts as dc), 2 dc in first st, *[dc3tog over next 3 sts] 2 times, 5 dc in next st; rep from "
			"* 2 more times, [dc3tog over next 3 sts] 2 times, 3 dc in last st, turn.",
		.mirror = true,
	},
	{
		.name = "triangle from a chain", .start = "Ch 4.",
		.rows = "Row 1 (RS): 2 dc in 4th ch from hook, turn. [3 dc]\n"
			"Row 2 (WS): Ch 3 (counts as dc), dc in first st, dc in next st, 2 dc in last st, turn. [5 dc]\n"
			"Row 3 (RS): Ch 3 (counts as dc), dc in first st, dc in next 3 sts, 2 dc in last st, turn. [7 dc]\n"
			"Row 4 (WS): Ch 3 (counts as dc), dc in first st, dc in next 5 sts, 2 dc in last st. [9 dc]",
		.mirror = true,
	},
	{
		.name = "arches", .start = "Ch 27.",
		.rows = "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
			"Row 2 (WS): Ch 1, sc in first st, *ch 5, sk 3 sts, sc in next st; rep from * across, turn.\n"
			"Row 3 (RS): Ch 1, sc in first sc, *7 dc in next ch-5 sp, sc in next sc; rep from * across, turn.",
		.mirror = true,
	},
	{
		.name = "triangle", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 3 dc in ring, ch 2, [4 dc in ring, ch 2] 2 times, join with sl st in top of "
			"ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), dc in next 3 sts, (3 dc, ch 2, 3 dc) in next ch-2 sp, [dc in next 4 sts, (3 "
			"dc, ch 2, 3 dc) in next ch-2 sp] 2 times, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in next 6 sts, (3 dc, ch 2, 3 dc) in next ch-2 sp, [dc in next 10 sts, "
			"(3 dc, ch 2, 3 dc) in next ch-2 sp] 2 times, dc in last 3 sts, join with sl st in top of ch-3.",
		.turns = 3, .mirror = true,
	},
	{
		.name = "octagon", .start = "Make a magic ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 15 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 3 (counts as dc), (dc, ch 1, dc) in next st, [dc in next st, (dc, ch 1, dc) in next st] 7 "
			"times, join with sl st in top of ch-3.\n"
			"Rnd 3: Ch 3 (counts as dc), dc in next st, (dc, ch 1, dc) in next ch-1 sp, [dc in next 3 sts, (dc, ch "
			"1, dc) in next ch-1 sp] 7 times, dc in last st, join with sl st in top of ch-3.",
		.turns = 8, .mirror = true,
	},
	{
		.name = "oval lopsided", .start = "Ch 13.",
		.rows = "Rnd 1: Dc in 4th ch from hook, dc in next 8 ch, 6 dc in last ch, working along opposite side of "
			"foundation ch, dc in next 8 ch, 5 dc in last ch, join with sl st in top of ch-3.",
	},
	{
		.name = "filet", .start = "Ch 29.",
		.rows = "Row 1 (RS): Dc in 8th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * across, turn.\n"
			"Row 2 (WS): Ch 5 (counts as dc and ch 2), sk first dc, *dc in next dc, ch 2; rep from * to last sp, sk "
			"2 ch, dc in next ch, turn.\n"
			"Row 3 (RS): Ch 5 (counts as dc and ch 2), sk first dc, [dc in next dc, ch 2] 4 times, dc in next dc, "
			"leave rem sts unworked, turn.",
	},
	{
		.name = "fan 5", .start = "Ch 38.",
		.rows = "Row 1 (RS): Sc in 2nd ch from hook, *ch 1, sk 2 ch, 5 dc in next ch, ch 1, sk 2 ch, sc in next ch; rep "
			"from * across, turn.\n"
			"Row 2 (WS): Ch 3 (counts as dc), 2 dc in first sc, *ch 1, sk 2 dc, sc in next dc, ch 1, sk 2 dc, 5 dc "
			"in next sc; rep from * to last shell, ch 1, sk 2 dc, sc in next dc, ch 1, sk 2 dc, 3 dc in last sc, "
			"turn.\n"
			"Row 3 (RS): Ch 1, sc in first dc, *ch 1, sk 2 dc, 5 dc in next sc, ch 1, sk 2 dc, sc in next dc; rep "
			"from * across, turn.",
		.mirror = true,
	},
	{
		.name = "wheel", .start = "Ch 6, join with sl st to form a ring.",
		.rows = "Rnd 1: Ch 3 (counts as dc), 15 dc in ring, join with sl st in top of ch-3.\n"
			"Rnd 2: Ch 5 (counts as dc and ch 2), *dc in next st, ch 2; rep from * around, join with sl st in 3rd ch "
			"of ch-5.\n"
			"Rnd 3: Ch 1, *3 sc in next ch-2 sp; rep from * around, join with sl st in first sc.",
		.turns = 16, .mirror = true,
	},
	{
		.name = "spiral sc", .start = "Make a magic ring.",
		.rows = "Rnd 1: 6 sc in ring.\n"
			"Rnd 2: 2 sc in each st around.\n"
			"Rnd 3: *Sc in next st, 2 sc in next st; rep from * around.\n"
			"Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around.\n"
			"Rnd 5: *Sc in next 3 sts, 2 sc in next st; rep from * around.",
		/* A spiral climbs by its own height in a turn, and its increases stand above one another. */
		.lean_middle = 8.5,
	},
};

static double bound(double own, double common)
{
	return own > 0 ? own : common;
}

static void check_measures(const piece *p, const tb_chart *chart)
{
	tb_lying lying = tb_lying_measure(chart);
	if (!isnan(lying.lean_middle)) {
		cr_expect_leq(lying.lean_middle, bound(p->lean_middle, LEAN_MIDDLE), "%s leans by %.1f degrees", p->name, lying.lean_middle);
		cr_expect_leq(lying.lean_most, bound(p->lean_most, LEAN_MOST), "%s leans by up to %.1f degrees", p->name, lying.lean_most);
	}
	if (!isnan(lying.stretch_least)) {
		cr_expect_geq(lying.stretch_least, bound(p->stretch_least, STRETCH_LEAST), "%s: a stem is %.2f of its height", p->name, lying.stretch_least);
		cr_expect_leq(lying.stretch_most, bound(p->stretch_most, STRETCH_MOST), "%s: a stem is %.2f of its height", p->name, lying.stretch_most);
	}
	if (!isnan(lying.spacing))
		cr_expect_leq(lying.spacing, bound(p->spacing, SPACING), "%s is spaced unevenly: %.3f", p->name, lying.spacing);
	cr_expect_eq(lying.crossing, 0, "%s: %u stems cross", p->name, lying.crossing);
	cr_expect_eq(lying.touching, 0, "%s: %u chains touch what they have nothing to do with", p->name, lying.touching);
	cr_expect_leq(lying.unlike, UNLIKE, "%s: what is alike lies %.4f mm apart", p->name, lying.unlike);
	cr_expect_eq(chart->turns, MAX(p->turns, 1), "%s comes %u times around", p->name, chart->turns);
	cr_expect_eq(chart->halves_alike, p->mirror, "%s %s mirrored", p->name, p->mirror ? "is not" : "is");
}

static void check_on_page(const piece *p, const tb_chart *chart)
{
	for (guint i = 0; i < chart->placed->len + chart->feet->len; i++) {
		tb_spot at = i < chart->placed->len ? g_array_index(chart->placed, tb_placed, i).top :
			g_array_index(chart->feet, tb_spot, i - chart->placed->len);
		cr_assert(isfinite(at.x) && isfinite(at.y), "%s", p->name);
		cr_assert(at.x > 0 && at.x < chart->width && at.y > 0 && at.y < chart->height, "%s: off the page", p->name);
	}
	g_autoptr(GString) told = g_string_new(NULL);
	cr_expect_eq(tb_labels_in_the_way(chart, told), 0, "%s:\n%s", p->name, told->str);
	cr_expect_eq(tb_paper_count_close(chart, TB_PAPER_TOUCH, told), 0, "%s:\n%s", p->name, told->str);
}

/* The number of a round stands in that round's own ring, not in its neighbours'. */
static void check_numbers(const piece *p, const tb_chart *chart)
{
	if (!tb_chart_is(chart, TB_LAY_DISC) || chart->turns < 6)
		return;
	const tb_chart_row *last = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
	tb_spot middle = {0, 0};
	guint count = 0;
	for (guint32 i = last->first; i < last->first + last->count; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		if (!(chart->fabric->made[placed->made].flags & TB_MADE_COUNTED))
			continue;
		middle.x += placed->top.x;
		middle.y += placed->top.y;
		count++;
	}
	middle = (tb_spot){middle.x / count, middle.y / count};
	for (guint r = 0; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		g_autofree char *number = g_strdup_printf("%u", chart->fabric->rows[row->row].number);
		double from = hypot(row->first_foot.x - middle.x, row->first_foot.y - middle.y);
		double to = hypot(row->first_top.x - middle.x, row->first_top.y - middle.y);
		guint found = 0;
		for (guint k = 0; k < chart->labels->len && row->row > 0; k++) {
			const tb_label *label = &g_array_index(chart->labels, tb_label, k);
			if (strcmp(label->text, number) != 0)
				continue;
			found++;
			double at = hypot(label->x - middle.x, label->y - 0.36 * label->size_mm - middle.y);
			cr_expect(at > from - 0.3 * chart->column && at < to + 0.3 * chart->column, "%s: number %s stands %.2f columns out, its "
				"round from %.2f to %.2f", p->name, number, at / chart->column, from / chart->column, to / chart->column);
		}
		cr_expect_eq(found, row->row > 0 && row->count > 0 ? 1 : 0, "%s: number %s stands %u times", p->name, number, found);
	}
}

static char *trace_of(const tb_chart *chart)
{
	tb_drawing *drawing = tb_chart_draw(chart);
	char *trace = tb_drawing_trace(drawing);
	tb_drawing_destroy(drawing);
	return trace;
}

/* The left-handed work the mirror image: to the last bit, but for where it stands on the page. */
static void check_left_handed(const piece *p, const tb_chart *right, const tb_chart *left)
{
	cr_assert_eq(right->placed->len, left->placed->len, "%s", p->name);
	const tb_placed *a = &g_array_index(right->placed, tb_placed, 0), *b = &g_array_index(left->placed, tb_placed, 0);
	double middle = a->top.x + b->top.x, down = b->top.y - a->top.y;
	for (guint i = 0; i < right->placed->len; i++) {
		cr_assert_float_eq(a[i].top.x + b[i].top.x, middle, 1e-9, "%s, stitch %u", p->name, i);
		cr_assert_float_eq(b[i].top.y - a[i].top.y, down, 1e-9, "%s, stitch %u", p->name, i);
		cr_assert_float_eq(sin(a[i].angle + b[i].angle), 0, 1e-9, "%s, stitch %u", p->name, i);
	}
}

Test(rest, every_piece_lies_as_cloth_does, .timeout = 240)
{
	for (gsize i = 0; i < G_N_ELEMENTS(pieces); i++) {
		const piece *p = &pieces[i];
		tb_case c = tb_case_rows("", p->start, p->rows);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_str_empty(faults, "%s: %s", p->name, faults);
		tb_chart_options options = {.full = true}, left_handed = {.full = true, .left_handed = true};
		tb_chart *chart = tb_case_chart(&c, &options), *again = tb_case_chart(&c, &options), *left = tb_case_chart(&c, &left_handed);
		cr_assert(chart != NULL && again != NULL && left != NULL, "%s", p->name);
		cr_expect(tb_chart_part_at(chart, 0)->at_rest, "%s is a grid", p->name);
		check_measures(p, chart);
		check_on_page(p, chart);
		check_numbers(p, chart);
		g_autofree char *first = trace_of(chart), *second = trace_of(again);
		cr_expect_str_eq(first, second, "%s is drawn otherwise the second time", p->name);
		check_left_handed(p, chart, left);
		tb_chart_destroy(chart);
		tb_chart_destroy(again);
		tb_chart_destroy(left);
		tb_case_finish(&c);
	}
}

/* ---- symmetry ---- */

/* A granny square whose last round has WITH for one of its corners. */
static tb_chart *chart_square(tb_case *c, const char *with)
{
	g_autofree char *rows = g_strdup_printf(
		"Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl st in top of ch-3.\n"
		"Rnd 2: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, ch 1, "
		"[(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1] 3 times, join with sl st in top of ch-3.\n"
		"Rnd 3: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, ch 1, 3 dc in "
		"next ch-1 sp, ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1, (3 dc, ch 2, 3 dc) in next "
		"ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1, %s in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1, join with sl st in "
		"top of ch-3.", with);
	*c = tb_case_rows("", "Ch 4, join with sl st to form a ring.", rows);
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	return chart;
}

static tb_spot from_middle(const tb_chart *chart, guint i)
{
	const tb_chart_row *ring = &g_array_index(chart->rows, tb_chart_row, 0);
	tb_spot middle = {0, 0}, top = g_array_index(chart->placed, tb_placed, i).top;
	for (guint32 k = ring->first; k < ring->first + ring->count; k++) {
		middle.x += g_array_index(chart->placed, tb_placed, k).top.x / ring->count;
		middle.y += g_array_index(chart->placed, tb_placed, k).top.y / ring->count;
	}
	return (tb_spot){top.x - middle.x, top.y - middle.y};
}

/* One stitch that is not like its images takes the symmetry away, and the picture changes there alone: it does not jump. */
Test(rest, one_stitch_changed_changes_the_square_there)
{
	tb_case c, other;
	tb_chart *square = chart_square(&c, "(3 dc, ch 2, 3 dc)"), *changed = chart_square(&other, "(3 dc, ch 2, 2 dc, hdc)");
	cr_assert_eq(square->turns, 4);
	cr_assert(square->halves_alike);
	cr_assert_eq(changed->turns, 1);
	cr_assert_not(changed->halves_alike);
	cr_assert_eq(square->placed->len, changed->placed->len);
	guint at = 0;
	for (guint i = 0; i < changed->placed->len; i++)
		if (g_strcmp0(tb_test_stitch(changed, &g_array_index(changed->placed, tb_placed, i))->us, "hdc") == 0)
			at = i;
	cr_assert_gt(at, 0);
	tb_spot place = from_middle(square, at);
	double column = square->column, farthest = 0;
	for (guint i = 0; i < square->placed->len; i++) {
		tb_spot a = from_middle(square, i), b = from_middle(changed, i);
		double moved = hypot(a.x - b.x, a.y - b.y) / column, away = hypot(a.x - place.x, a.y - place.y) / column;
		cr_expect_lt(moved, 1, "stitch %u jumps by %.2f columns", i, moved);
		if (away > 6)
			farthest = fmax(farthest, moved);
	}
	/* Its sides are no longer known to be straight, and give a little. */
	cr_expect_lt(farthest, 0.3, "far from it a stitch moves by %.2f columns", farthest);
	tb_chart_destroy(square);
	tb_chart_destroy(changed);
	tb_case_finish(&c);
	tb_case_finish(&other);
}

/* ---- out of a ring ---- */

/* In a spiral the first stitches lie near the ring, and are stitches with stems all the same. */
Test(rest, stems_out_of_a_magic_ring_are_seen)
{
	tb_case c = tb_case_rows("", "Make a magic ring.", "Rnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st around.\nRnd 3: Sc in each st "
		"around.");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	for (guint32 i = 1; i <= 6; i++) {
		const tb_placed *p = tb_test_placed(chart, 1, i);
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot);
		cr_assert_geq(hypot(p->top.x - foot->x, p->top.y - foot->y), 0.4 * chart->column, "stitch %u", i);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* ---- what is large ---- */

/* The highest less the lowest top among the stitches US of the last row, in columns: of those at the same place of PERIOD. */
static double unevenness(const tb_chart *chart, const char *us, unsigned period)
{
	const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
	double most = 0;
	for (unsigned place = 0; place < period; place++) {
		double low = INFINITY, high = -INFINITY;
		unsigned count = 0;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
			if (g_strcmp0(tb_test_stitch(chart, p)->us, us) != 0 || count++ % period != place)
				continue;
			low = fmin(low, p->top.y);
			high = fmax(high, p->top.y);
		}
		most = fmax(most, (high - low) / chart->column);
	}
	return most;
}

static tb_chart *chart_large(tb_case *c, const char *start, const char *first, const char *odd, const char *even, unsigned rows)
{
	g_autoptr(GString) text = g_string_new(first);
	for (unsigned r = 2; r <= rows; r++)
		g_string_append_printf(text, "\nRow %u: %s", r, r % 2 == 0 ? even : odd);
	*c = tb_case_rows("", start, text->str);
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	cr_assert(tb_chart_part_at(chart, 0)->at_rest);
	tb_lying lying = tb_lying_measure(chart);
	cr_expect_eq(lying.crossing, 0, "%u stems cross", lying.crossing);
	cr_expect_geq(lying.stretch_least, STRETCH_LEAST);
	cr_expect_leq(lying.stretch_most, STRETCH_MOST);
	return chart;
}

/* A ripple of twenty waves neither turns nor folds: its motifs stand side by side, all alike. */
Test(rest, a_wide_ripple_stays_level)
{
	const char *again = "Ch 3 (counts as dc), dc in first st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, 2 dc in next "
		"st, *2 dc in next st, dc in next 3 sts, [dc2tog] 2 times, dc in next 3 sts, 2 dc in next st; rep from * across, turn.";
	tb_case c;
	tb_chart *chart = chart_large(&c, "Ch 243.",
		"Row 1: Dc in 4th ch from hook, dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch, 2 dc in next ch, *2 dc in next ch, "
		"dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch, 2 dc in next ch; rep from * across, turn.", again, again, 12);
	cr_assert_lt(unevenness(chart, "dc2tog", 1), 0.01);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Shells in the gaps between shells: in every row one more stands on what stands on an edge, and it is level all the same. */
Test(rest, a_tall_lace_stays_level_to_its_edges)
{
	tb_case c;
	tb_chart *chart = chart_large(&c, "Ch 64.", "Row 1: Dc in 4th ch from hook and in each ch across, turn.",
		"Ch 3 (counts as dc), *3 dc in sp between next 2 sts, sk next 2 sts; rep from * to last 3 sts, 3 dc in sp between next "
		"2 sts, sk next st, dc in top of tch, turn.",
		"Ch 3 (counts as dc), dc in first st, *sk next 2 sts, 3 dc in sp between next 2 sts; rep from * to last 4 sts, sk next "
		"3 sts, 2 dc in top of tch, turn.", 41);
	/* the two or three at the edges have half a shell beside them */
	cr_assert_lt(unevenness(chart, "dc", 3), 0.5);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* What is worked back along chains of its own row stands beside the chain that it goes into, from the tip down. */
Test(rest, stitches_worked_back_stand_beside_their_chains)
{
	static const struct {
		const char *start, *rows;
		guint32 count; /* of such stitches */
	} spurs[] = {
		{"Ch 22.", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [21 sc]\n"
			"Row 2 (WS): Ch 1, sc in first st, *sc in next st, ch 5, sc in 2nd ch from hook, hdc in next ch, dc in next ch, tr "
			"in next ch, sk next 3 sts, sc in next st; rep from * 3 times.", 16},
		{"Ch 13.", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [12 sc]\n"
			"Row 2 (WS): Ch 1, sc in first 3 sts, *ch 3, sc in 2nd ch from hook, hdc in next ch, sc in next 3 sts; rep from * "
			"across.", 6},
		{"Make a magic ring.", "Rnd 1: 6 sc in ring. [6 sc]\nRnd 2: 2 sc in each st around. [12 sc]\n"
			"Rnd 3: *Sl st in next st, ch 6, 2 sc in 2nd ch from hook, 2 sc in each of next 4 ch, sl st in next st; rep from * "
			"around.", 60},
	};
	for (gsize i = 0; i < G_N_ELEMENTS(spurs); i++) {
		tb_case c = tb_case_rows("", spurs[i].start, spurs[i].rows);
		tb_chart_options options = {.full = true};
		tb_chart *chart = tb_case_chart(&c, &options);
		cr_assert_not_null(chart);
		guint32 count = 0;
		for (guint k = 0; k < chart->placed->len; k++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, k);
			const tb_made *made = &chart->fabric->made[p->made];
			guint32 base = made->base_count == 1 ? tb_fabric_base(chart->fabric, made, 0) : 0;
			if (made->base_count != 1 || chart->fabric->made[base].row != made->row || !(chart->fabric->made[base].flags & TB_MADE_CHAIN))
				continue;
			for (guint j = 0; j < chart->placed->len; j++) {
				const tb_placed *chain = &g_array_index(chart->placed, tb_placed, j);
				if (chain->made != base)
					continue;
				tb_spot foot = p->foot_count > 0 ? g_array_index(chart->feet, tb_spot, p->first_foot) : p->top;
				double away = hypot(foot.x - chain->top.x, foot.y - chain->top.y) / chart->column;
				cr_expect(away < 0.5, "%zu: a stitch stands %.2f columns from its chain", i, away);
				count++;
			}
		}
		cr_expect_eq(count, spurs[i].count, "%zu: %u stitches", i, count);
		g_autoptr(GString) told = g_string_new(NULL);
		cr_expect_eq(tb_paper_count_close(chart, TB_PAPER_TOUCH, told), 0, "%zu:\n%s", i, told->str);
		tb_chart_destroy(chart);
		tb_case_finish(&c);
	}
}
