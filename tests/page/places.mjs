/* Places that are told in runs are, set out, those that the chart has. */
import fs from 'node:fs';
import {chartOf, check, equal, makePage, openPage, test} from './browser.mjs';

/* A back with decreases at both ends, which no two sizes share. */
const rows = ['Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.'];
for (let i = 2; i <= 26; i++)
	rows.push(
		i % 4 === 0
			? `Row ${i}: Ch 3 (counts as dc), sk first st, dc2tog over next 2 sts, dc in each st to last 3 sts, dc2tog over next 2 sts, dc in last st, turn.`
			: `Row ${i}: Ch 3 (counts as dc), sk first st, dc in each st across, turn.`
	);
const SHAPED = {
	format: 1,
	title: 'Shaped back',
	sizes: ['XS', 'S', 'M', 'L', 'XL', '2X', '3X'],
	gauge: {stitches: 13, rows: 9, over: '10 cm'},
	pieces: [{name: 'Back', start: 'Ch 63 (67, 73, 79, 83, 91, 97).', rows}],
};

test('seven shaped sizes with a chart each are under 400 KB', async () => {
	const bytes = fs.statSync(makePage(SHAPED)).size;
	check(bytes < 400 * 1024, `${bytes} bytes`);
});

test('stitches set out from runs stand where the chart has them', async (browser) => {
	const cases = [
		[SHAPED, 'XS'],
		[SHAPED, '3X'],
		['lantern-vest.json'],
		['pine-fan.txt'],
		['moon-disc.txt'],
		['rope-cable.txt'],
		['ripple-blanket.txt'],
	];
	for (const [pattern, size] of cases) {
		const wanted = chartOf(pattern, ...(size ? ['--size', size] : [])).stitches;
		const page = await openPage(browser, makePage(pattern, ...(size ? ['--size', size] : [])));
		const got = await page.evaluate(() => pattern.charts[0].stitches);
		equal(got.length, wanted.length, `${size}`);
		got.forEach((stitch, i) => {
			const away = Math.hypot(stitch[2] - wanted[i].top[0], stitch[3] - wanted[i].top[1]);
			check(
				away < 0.03,
				`${JSON.stringify(pattern).slice(0, 30)} ${size}, stitch ${i}: ${away} mm off`
			);
			equal(stitch[1], wanted[i].place ?? wanted[i].index, `stitch ${i}`);
			equal(stitch[11].length / 2, wanted[i].bases.length, `stitch ${i}`);
			wanted[i].bases.forEach((foot, k) =>
				check(
					Math.hypot(stitch[11][2 * k] - foot[0], stitch[11][2 * k + 1] - foot[1]) < 0.03,
					`foot of stitch ${i}`
				)
			);
			if (wanted[i].base_ids)
				equal(
					stitch[10].filter((b) => b >= 0).map((b) => wanted[b].id),
					wanted[i].base_ids,
					`bases of stitch ${i}`
				);
		});
		await page.close();
	}
});

test('symbols set out from runs are those drawn one by one', async (browser) => {
	const places = async (...options) => {
		const page = await openPage(browser, makePage('lantern-vest.json', ...options));
		const all = await page
			.locator('.chart.right use')
			.evaluateAll((uses) =>
				uses.map((u) => [
					u.getAttribute('href'),
					Number(u.getAttribute('x')),
					Number(u.getAttribute('y')),
				])
			);
		await page.close();
		return all;
	};
	/* With the left hand first, the right hand's chart is the one told in runs. */
	const one = await places('--hand', 'right'),
		other = await places('--hand', 'left');
	check(one.length > 40, `${one.length} symbols`);
	equal(
		other.map((u) => u[0]),
		one.map((u) => u[0])
	);
	other.forEach((u, i) =>
		check(
			Math.abs(u[1] - one[i][1]) + Math.abs(u[2] - one[i][2]) < 0.03,
			`symbol ${i} is at ${u}, not ${one[i]}`
		)
	);
});
