/* Undo, memory, and a device that remembers nothing. */
import {check, equal, forget, makePage, openPage, test, textOf, times} from './browser.mjs';

const VEST = makePage('lantern-vest.json');

test('the place and the size are found again', async (browser) => {
	const page = await openPage(browser, VEST);
	await forget(page);
	await page.getByRole('radio', {name: 'XL', exact: true}).check();
	await times(6, () => page.click('#row-next'));
	await times(5, () => page.click('#stitch-next'));
	const before = await textOf(page, 'count'),
		head = await textOf(page, 'row-head');
	await page.close();
	const again = await openPage(browser, VEST);
	equal(await textOf(again, 'row-head'), head);
	equal(await textOf(again, 'count'), before);
	check(
		await again.getByRole('radio', {name: 'XL', exact: true}).isChecked(),
		'the size is forgotten'
	);
});

test('undo takes back rows, stitches and sizes', async (browser) => {
	const page = await openPage(browser, VEST);
	await forget(page);
	check(await page.locator('#undo').isDisabled(), 'something to undo at the start');
	await page.getByRole('radio', {name: 'L', exact: true}).check();
	await page.click('#row-next');
	await times(2, () => page.click('#stitch-next'));
	await page.click('#undo');
	equal(await textOf(page, 'count'), 'Not in the count');
	await page.reload();
	await page.click('#undo');
	await page.keyboard.press('Control+z');
	check(/1\s+of 54/.test(await textOf(page, 'row-head')), 'the row is not taken back');
	await page.click('#undo');
	check(
		await page.getByRole('radio', {name: 'XS', exact: true}).isChecked(),
		'the size is not taken back'
	);
});

test('a place that is no more becomes the nearest there is', async (browser) => {
	for (const kept of [
		'{"row":9999,"step":9999,"size":77,"piece":-3}',
		'{"row":"x","past":[null,7,{"row":-1}]}',
		'[]',
		'"',
		'null',
	]) {
		const page = await openPage(browser, VEST);
		await page.evaluate(
			(value) => localStorage.setItem(`tambour-place-${pattern.place}`, value),
			kept
		);
		await page.reload();
		check((await textOf(page, 'row-head')).includes('of 5'), kept);
		equal(page.faults, [], kept);
		await page.close();
	}
});

test('a device that keeps nothing is no trouble', async (browser) => {
	const page = await openPage(browser, VEST, () => {
		Object.defineProperty(window, 'localStorage', {
			get() {
				throw new DOMException('denied', 'SecurityError');
			},
		});
	});
	await page.click('#row-next');
	await page.click('#stitch-next');
	check(/2\s+of 50/.test(await textOf(page, 'row-head')), 'no stepping without memory');
	equal(page.faults, []);
});

test('a swipe over the row turns it, a scroll does not', async (browser) => {
	const page = await openPage(browser, VEST);
	await forget(page);
	const swipe = (fromX, fromY, toX, toY) =>
		page.evaluate(
			(p) => {
				const fire = (type, x, y) =>
					byId('row-card').dispatchEvent(
						new PointerEvent(type, {
							clientX: x,
							clientY: y,
							pointerType: 'touch',
							isPrimary: true,
							bubbles: true,
						})
					);
				fire('pointerdown', p[0], p[1]);
				fire('pointerup', p[2], p[3]);
			},
			[fromX, fromY, toX, toY]
		);
	await swipe(300, 100, 200, 110);
	check(/2\s+of 50/.test(await textOf(page, 'row-head')), 'a swipe to the left');
	await swipe(200, 100, 300, 90);
	check(/1\s+of 50/.test(await textOf(page, 'row-head')), 'a swipe to the right');
	await swipe(200, 300, 130, 100);
	check(/1\s+of 50/.test(await textOf(page, 'row-head')), 'a scroll turned the row');
});
