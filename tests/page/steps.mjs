/*
 * Sizes, rows, stitches. The numbers are those of the pattern's own text: the vest has
 * 51 (55, 63, 67, 75, 79, 87) stitches and a repeat of 4 with 3 stitches of edge, so 12 (13, 15, 16,
 * 18, 19, 21) repeats by arithmetic.
 */
import {check, equal, forget, makePage, openPage, test, textOf, times} from './browser.mjs';

const VEST = makePage('lantern-vest.json');
const SIZES = ['XS', 'S', 'M', 'L', 'XL', '2X', '3X'];
const STITCHES = [51, 55, 63, 67, 75, 79, 87];

async function openVest(browser) {
	const page = await openPage(browser, VEST);
	await forget(page);
	return page;
}

const shownTimes = (page) => page.locator('.chart.shown .times').textContent();

test('every size shows its own numbers alone', async (browser) => {
	const page = await openVest(browser);
	for (let i = 0; i < SIZES.length; i++) {
		await page.getByRole('radio', {name: SIZES[i], exact: true}).check();
		equal(await shownTimes(page), `4 sts, ${(STITCHES[i] - 3) / 4} times`, SIZES[i]);
		equal(await textOf(page, 'count'), `${STITCHES[i]} stitches in this size`, SIZES[i]);
		check(
			(await textOf(page, 'written')).endsWith(`[${STITCHES[i]} sts]`),
			`${SIZES[i]}: the row's words`
		);
		const said = await page.locator('main').innerText();
		check(!/\d \(\d+, \d+/.test(said), `${SIZES[i]}: a bracket of sizes is left`);
	}
	equal(page.faults, []);
});

test('steps through a row come to the count of that row, in every size', async (browser) => {
	for (const name of [
		'lantern-vest.json',
		'basket-throw.json',
		'cuff-rib.json',
		'ripple-blanket.txt',
		'moon-disc.txt',
		'window-square.txt',
	]) {
		const page = await openPage(browser, makePage(name));
		const wrong = await page.evaluate(() => {
			const faults = [];
			for (at.piece = 0; at.piece < pattern.pieces.length; at.piece++)
				for (at.size = 0; at.size < pattern.sizes.length; at.size++)
					for (const made of rows()) {
						const sequence = sequenceOf(made);
						const count = sequence.length ? countTo(sequence, sequence.length - 1) : 0;
						if (count !== made[ROW.stitches])
							faults.push(
								`size ${at.size} row ${made[ROW.number]}: ${count}, not ${made[ROW.stitches]}`
							);
					}
			return faults;
		});
		equal(wrong, [], name);
	}
});

test('a row says its way, its place and its times', async (browser) => {
	const page = await openVest(browser);
	await page.getByRole('radio', {name: 'M', exact: true}).check();
	/* Right side rows run right to left for the right-handed (common practice). */
	equal(await textOf(page, 'way'), 'Right side, right to left');
	equal(await page.locator('.chart.shown .row.lit').getAttribute('data-row'), '1');
	await page.getByRole('button', {name: 'Next row'}).click();
	equal(await textOf(page, 'way'), 'Wrong side, left to right');
	equal(await page.locator('.chart.shown .row.lit').getAttribute('data-row'), '2');
	await page.fill('#go-row', '17');
	await page.keyboard.press('Enter');
	check(/17\s+of 54/.test(await textOf(page, 'row-head')), await textOf(page, 'row-head'));
	/* Rows 3-6 begin at rows 3, 7, 11, 15: row 17 is in the fourth time, worked as row 5. */
	equal(await textOf(page, 'again'), 'Fourth time through rows 3–6, 13 in all');
	equal(await page.locator('.chart.shown .row.lit').getAttribute('data-row'), '5');
	equal(await page.locator('.over .tag-said').textContent(), '17');
	check(
		(await textOf(page, 'written')).startsWith('Ch 3 (counts as dc), sk first st, *FPdc2tog'),
		'the words of row 5'
	);
	/* Row 5 is worked into row 4, and its post stitches around row 3. */
	equal(
		await page
			.locator('.chart.shown .row.reached')
			.evaluateAll((g) => g.map((e) => e.dataset.row)),
		['3', '4']
	);
});

test('a post stitch shows its post two rows down and the stitch left behind', async (browser) => {
	const page = await openVest(browser);
	await times(4, () => page.click('#row-next'));
	await times(2, () => page.click('#stitch-next'));
	equal(await textOf(page, 'stitch-head'), 'FPdc2tog: front post double crochet 2 together');
	equal(
		await textOf(page, 'stitch-where'),
		'Around the post of the dc 2 rows below, in row 3. Leave the sc behind it unworked.'
	);
	equal(await page.locator('.over .thread').count(), 1);
	equal(await page.locator('.over .post').count(), 1);
	equal(await page.locator('.over .behind').count(), 1);
	equal(await page.locator('.over .said').allTextContents(), ['left behind', 'post']);
	/* Yarn over adds a loop, a loop drawn up adds one, drawing through n leaves one for n: arithmetic. */
	equal(await page.locator('.moves .loops > span').allTextContents(), [
		'2 loops',
		'2 loops',
		'3 loops',
		'4 loops',
		'4 loops',
		'5 loops',
		'2 loops',
		'1 loop',
	]);
	/* The base is a dc of row 3, straight below: feet and tops of one column. */
	const apart = await page.evaluate(() => {
		const stitch = chart().stitches[stitchAt(sequenceOf(row()), at.step).placed],
			base = chart().stitches[stitch[STITCH.bases][0]];
		return Math.abs(stitch[STITCH.x] - base[STITCH.x]);
	});
	check(apart < 0.02, `the base stands ${apart} mm aside`);
});

test('repeats are counted once each', async (browser) => {
	const page = await openVest(browser);
	await times(4, () => page.click('#row-next'));
	await times(3, () => page.click('#stitch-next'));
	equal(await textOf(page, 'count'), 'Stitch 3 of 51 · repeat 1 of 12');
	await page.click('#repeat-next');
	equal(await textOf(page, 'count'), 'Stitch 7 of 51 · repeat 2 of 12');
	await times(10, () => page.click('#repeat-next'));
	equal(await textOf(page, 'count'), 'Stitch 47 of 51 · repeat 12 of 12');
	await page.click('#repeat-next');
	/* Behind the box: 1 + 12 × 4 = 49 stitches are done. */
	equal(await textOf(page, 'count'), 'Stitch 50 of 51');
	await times(2, () => page.click('#stitch-next'));
	check(/6\s+of 50/.test(await textOf(page, 'row-head')), 'the row after the last stitch');
});

test('a touched stitch is gone to in its row, looked at in another', async (browser) => {
	const page = await openVest(browser);
	await times(4, () => page.click('#row-next'));
	const spot = (placed) =>
		page.evaluate((i) => {
			const stitch = spotOf(chart().stitches[i]);
			const p = new DOMPoint(stitch.middle.x, stitch.middle.y).matrixTransform(
				over.getScreenCTM()
			);
			return {x: p.x, y: p.y};
		}, placed);
	const fourth = await page.evaluate(() => stitchAt(sequenceOf(row()), 3).placed);
	let p = await spot(fourth);
	await page.mouse.click(p.x, p.y);
	equal(await textOf(page, 'count'), 'Stitch 4 of 51 · repeat 1 of 12');
	const first = await page.evaluate(() => chart().rows[1][CHART_ROW.first] + 2);
	p = await spot(first);
	await page.mouse.click(p.x, p.y);
	check(/5\s+of 50/.test(await textOf(page, 'row-head')), 'looking moved the row');
	check(await page.locator('#from-here').isVisible(), 'no way to work from there');
	equal(await textOf(page, 'stitch-head'), 'dc: double crochet');
	await page.click('#from-here');
	check(/1\s+of 50/.test(await textOf(page, 'row-head')), 'did not go there');
});

test('the highlight lies on its symbol, for either hand', async (browser) => {
	const page = await openVest(browser);
	await times(4, () => page.click('#row-next'));
	await times(3, () => page.click('#stitch-next'));
	for (const hand of ['Right', 'Left']) {
		await page.evaluate(() => {
			document.querySelector('.looks').open = true;
		});
		await page.getByRole('radio', {name: hand, exact: true}).check({force: true});
		await page.keyboard.press('Escape');
		const away = await page.evaluate(() => {
			const middle = (e) => {
				const box = e.getBoundingClientRect();
				return box.x + box.width / 2;
			};
			return Math.abs(
				middle(document.querySelector('.over .here')) -
					middle(document.querySelector('.chart.shown use[stroke-width]'))
			);
		});
		check(away < 3, `${hand}: ${away} px aside`);
		equal(
			await textOf(page, 'way'),
			`Right side, ${hand === 'Right' ? 'right to left' : 'left to right'}`
		);
		equal(
			await page.locator('.chart.shown').evaluate((e) => e.classList.contains('left')),
			hand === 'Left'
		);
	}
});

test('UK terms are the same stitches by other names', async (browser) => {
	const page = await openPage(
		browser,
		makePage('lantern-vest.json', '--terms', 'uk', '--hand', 'left')
	);
	await forget(page);
	/* US double crochet is UK treble (trade-wide). */
	check(
		(await textOf(page, 'written')).startsWith('Tr in 4th ch'),
		await textOf(page, 'written')
	);
	await times(2, () => page.click('#stitch-next'));
	equal(await textOf(page, 'stitch-head'), 'tr: treble');
	equal(await textOf(page, 'stitch-other'), 'US dc, double crochet');
	equal(
		await page.locator('.moves li > span:first-child').first().textContent(),
		'Yarn round hook'
	);
});

test('rounds go round', async (browser) => {
	const page = await openPage(browser, makePage('moon-disc.txt'));
	await forget(page);
	/* Rounds run anticlockwise for the right-handed (common practice). */
	equal(await textOf(page, 'way'), 'Right side, anticlockwise');
	await times(3, () => page.click('#row-next'));
	await page.click('#stitch-next');
	await page.keyboard.press('ArrowRight');
	equal(await textOf(page, 'count'), 'Stitch 2 of 48');
});

test('a tube is read across, and what closes the other way around', async (browser) => {
	const page = await openPage(
		browser,
		makePage({
			format: 1,
			title: 'Ball',
			pieces: [
				{
					name: 'Ball',
					start: 'Make a magic ring.',
					rows: [
						'Rnd 1: 6 sc in ring. [6 sts]',
						'Rnd 2: 2 sc in each st around. [12 sts]',
						'Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. [18 sts]',
						'Rnds 4-6: Sc in each st around. [18 sts]',
						'Rnd 7: *Sc in next st, sc2tog; rep from * around. [12 sts]',
						'Rnd 8: [Sc2tog] 6 times. [6 sts]',
					],
				},
			],
		})
	);
	await forget(page);
	/* Out of the middle anticlockwise; on a tube that is cut open from the right; inward, seen from outside, clockwise. */
	const ways = [];
	for (let round = 1; round <= 8; round++) {
		ways.push(await textOf(page, 'way'));
		if (round < 8) await page.click('#row-next');
	}
	equal(ways, [
		...Array(3).fill('Right side, anticlockwise'),
		...Array(3).fill('Right side, right to left'),
		...Array(2).fill('Right side, clockwise'),
	]);
	equal(page.faults, []);
});

test('sizes that share no repeat have a chart each', async (browser) => {
	const page = await openPage(
		browser,
		makePage({
			format: 1,
			title: 'Three widths',
			sizes: ['S', 'L'],
			pieces: [
				{
					name: 'Square',
					start: 'Ch 7 (9).',
					rows: [
						'Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [6 (8) sts]',
						'Row 2 (WS): Ch 1, sk 0 (1), sc in each st across, turn. [6 (7) sts]',
					],
				},
			],
		})
	);
	await forget(page);
	await page.click('#row-next');
	equal(await textOf(page, 'count'), '6 stitches in this size');
	await page.getByRole('radio', {name: 'L', exact: true}).check();
	equal(await textOf(page, 'count'), '7 stitches in this size');
	equal(page.faults, []);
});

test('a piece that is not made in a size says so, and comes back in another', async (browser) => {
	const page = await openPage(
		browser,
		makePage({
			format: 1,
			title: 'Two pieces',
			sizes: ['S', 'L'],
			pieces: [
				{
					name: 'Body',
					start: 'Ch 9 (11).',
					rows: ['Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.'],
				},
				{
					name: 'Gusset',
					start: 'Ch - (5).',
					rows: [
						'Size L only: Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.',
					],
				},
			],
		})
	);
	await forget(page);
	await page.getByRole('radio', {name: 'Gusset', exact: true}).check();
	equal(await textOf(page, 'no-chart'), 'This piece is not made in this size.');
	check(await page.locator('#row-next').isDisabled(), 'rows of a piece that is not made');
	check(await page.locator('#row-card').isHidden(), 'the row of another piece is left');
	await page.evaluate(() => document.activeElement.blur());
	await page.keyboard.press('ArrowUp');
	await page.getByRole('radio', {name: 'L', exact: true}).check();
	equal(await textOf(page, 'count'), '4 stitches in this size');
	check(await page.locator('#no-chart').isHidden(), 'the words are left');
	equal(page.faults, []);
});

test('rows that are not charted stand in words', async (browser) => {
	const page = await openPage(browser, makePage('lantern-vest.json', '--rows', '3-6'));
	await forget(page);
	check(
		(await textOf(page, 'no-chart')).startsWith('These rows are not charted'),
		'nothing said'
	);
	check((await textOf(page, 'written')).startsWith('Dc in 4th ch'), 'no words');
	check(await page.locator('#stitch-next').isDisabled(), 'stitches that are not charted');
	await times(2, () => page.click('#row-next'));
	check(await page.locator('#no-chart').isHidden(), 'the words are left');
	equal(await page.locator('.chart.shown .row.lit').count(), 1);
	equal(page.faults, []);
});

test('times are said as English says them', async (browser) => {
	const page = await openPage(browser, VEST);
	equal(
		await page.evaluate(() => [1, 10, 11, 12, 13, 20, 21, 22, 23, 24, 101, 111].map(ordinal)),
		[
			'first',
			'tenth',
			'11th',
			'12th',
			'13th',
			'20th',
			'21st',
			'22nd',
			'23rd',
			'24th',
			'101st',
			'111th',
		]
	);
});
