/* By keyboard, by ear, by eyes that need more: W3C, WCAG 2.2. */
import fs from 'node:fs';
import {createRequire} from 'node:module';
import {check, equal, forget, makePage, openPage, test, textOf, times} from './browser.mjs';

const AXE = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const VEST = makePage('lantern-vest.json');

async function openWith(browser, looks, file = VEST) {
	const page = await openPage(browser, file);
	await page.evaluate((l) => {
		localStorage.clear();
		localStorage.setItem('tambour-looks', JSON.stringify(l));
	}, looks);
	await page.reload();
	return page;
}

async function audit(page, what) {
	await page.evaluate(AXE);
	const found = await page.evaluate(() =>
		axe.run(document, {
			runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
		})
	);
	equal(
		found.violations.map(
			(v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`
		),
		[],
		what
	);
	check(
		found.passes.length > 20,
		`${what}: only ${found.passes.length} rules could be looked at`
	);
}

test('the audit finds nothing', async (browser) => {
	const every = [
		{},
		{light: 'dark'},
		{contrast: 'high'},
		{contrast: 'high', light: 'dark'},
		{size: 'larger', terms: 'uk', hand: 'left'},
	];
	for (const looks of every) {
		const page = await openWith(browser, looks);
		await times(4, () => page.click('#row-next'));
		await times(2, () => page.click('#stitch-next'));
		await audit(page, JSON.stringify(looks));
		await page.click('.looks summary');
		await audit(page, `${JSON.stringify(looks)}, settings open`);
		await page.close();
	}
	const phone = await openWith(browser, {}, makePage('moon-disc.txt'));
	await phone.setViewportSize({width: 360, height: 740});
	await audit(phone, 'rounds on a phone');
});

test('the inks stand out by 4.5 to 1, light or dark', async (browser) => {
	for (const looks of [
		{light: 'light'},
		{light: 'dark'},
		{light: 'light', contrast: 'high'},
		{light: 'dark', contrast: 'high'},
	]) {
		const page = await openWith(browser, looks);
		const weak = await page.evaluate(() => {
			const style = getComputedStyle(document.documentElement);
			const light = (name) => {
				const hex = style.getPropertyValue(`--${name}`).trim();
				const part = (i) => {
					const c = parseInt(hex.slice(i, i + 2), 16) / 255;
					return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
				};
				return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
			};
			const contrast = (a, b) =>
				(Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
			const pairs = [];
			for (const ink of [
				'text',
				'quiet',
				'ink-a',
				'ink-b',
				'ink-below',
				'ink-extra',
				'thread',
			])
				for (const ground of ['sheet', 'paper'])
					if (!(ink === 'ink-below' && ground === 'paper')) pairs.push([ink, ground]);
			pairs.push(
				['ink-a', 'lit'],
				['ink-b', 'lit'],
				['text', 'lit'],
				['thread', 'lit'],
				['on-act', 'act']
			);
			return pairs
				.filter((p) => contrast(...p) < 4.5)
				.map((p) => `${p.join(' on ')} ${contrast(...p).toFixed(2)}`);
		});
		equal(weak, [], JSON.stringify(looks));
		await page.close();
	}
});

test('by keyboard alone', async (browser) => {
	const page = await openPage(browser, VEST);
	await forget(page);
	const stops = [],
		seen = new Set();
	for (let i = 0; i < 30; i++) {
		await page.keyboard.press('Tab');
		const stop = await page.evaluate(() => {
			const e = document.activeElement,
				ring = e.matches('.pick input') ? e.nextElementSibling : e;
			const style = getComputedStyle(ring);
			return {
				name: e.id || e.name || e.tagName,
				ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
			};
		});
		if (stop.name === 'BODY' || seen.has(stop.name)) break;
		seen.add(stop.name);
		stops.push(stop);
	}
	equal(
		stops.filter((s) => !s.ring).map((s) => s.name),
		[],
		'no ring at'
	);
	for (const name of ['SUMMARY', 'sizes', 'table', 'go-row', 'row-next', 'stitch-next'])
		check(seen.has(name), `${name} is not reached: ${[...seen].join(' ')}`);

	await page.locator('#sizes input:checked').focus();
	await page.keyboard.press('ArrowRight');
	check(
		await page.getByRole('radio', {name: 'S', exact: true}).isChecked(),
		'the size is not chosen by arrows'
	);
	await page.focus('#table');
	await times(2, () => page.keyboard.press('ArrowUp'));
	/* Row 3 runs to the left: left is onward. */
	await times(4, () => page.keyboard.press('ArrowLeft'));
	equal(await textOf(page, 'count'), 'Stitch 4 of 55 · repeat 1 of 13');
	await page.keyboard.press('ArrowRight');
	equal(await textOf(page, 'count'), 'Stitch 3 of 55 · repeat 1 of 13');
	await page.keyboard.press('ArrowDown');
	/* Row 2 runs to the right: right is onward. */
	await times(2, () => page.keyboard.press('ArrowRight'));
	equal(await textOf(page, 'count'), 'Stitch 1 of 55');
	await page.focus('#row-next');
	await page.keyboard.press('Space');
	check(/3\s+of 50/.test(await textOf(page, 'row-head')), 'the button does not work by key');
	await page.keyboard.press('Control+z');
	check(/2\s+of 50/.test(await textOf(page, 'row-head')), 'no undo by key');
});

test('rows and stitches are spoken', async (browser) => {
	const page = await openPage(browser, VEST);
	await forget(page);
	await times(2, () => page.click('#row-next'));
	const spoken = () => page.locator('#spoken').textContent();
	check(
		(await spoken()).startsWith(
			'Row 3 of 50. Right side, right to left. First time through rows 3–6, 12 in all. Ch 3'
		),
		await spoken()
	);
	await page.click('#stitch-next');
	equal(
		await spoken(),
		'ch 3. Stitch 1 of 51. 3 chains to bring the hook up. Counts as the first stitch.'
	);
	equal(await page.locator('#spoken').getAttribute('aria-live'), 'polite');
	check(
		(await page.locator('.chart.shown').getAttribute('aria-label')).startsWith(
			'Crochet chart of Back, rows 1 to 6.'
		),
		'no label'
	);
	equal(await page.locator('.chart.shown').getAttribute('role'), 'img');
});

test('targets are 44 px, at every width', async (browser) => {
	const page = await openPage(browser, VEST);
	for (const width of [320, 360, 820, 1280]) {
		await page.setViewportSize({width, height: 740});
		await page.evaluate(() => {
			document.querySelector('.looks').open = true;
		});
		const small = await page
			.locator('button:visible, summary, .pick:visible, input[type=number]')
			.evaluateAll((all) =>
				all
					.map((e) => {
						const box = e.getBoundingClientRect();
						return {text: e.id || e.textContent, width: box.width, height: box.height};
					})
					.filter((b) => b.width < 43.9 || b.height < 43.9)
			);
		equal(small, [], `at ${width}`);
	}
});

test('who wants no motion has none', async (browser) => {
	const page = await openPage(browser, VEST);
	const moves = () =>
		page.evaluate(() => [
			getComputedStyle(document.querySelector('.row')).transitionDuration,
			getComputedStyle(byId('table')).scrollBehavior,
		]);
	await page.emulateMedia({reducedMotion: 'reduce'});
	equal(await moves(), ['0s', 'auto']);
	await page.emulateMedia({reducedMotion: 'no-preference'});
	check((await moves())[1] === 'smooth', 'the test cannot tell');
});
