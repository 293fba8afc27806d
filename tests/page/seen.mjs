/* Screens to be looked at, and what can be said of them without eyes. */
import path from 'node:path';
import {check, equal, forget, makePage, openPage, pictures, test, times} from './browser.mjs';

const WIDTHS = {phone: [360, 740], tablet: [820, 1180], desk: [1280, 900]};
const NAMES = ['lantern-vest.json', 'moon-disc.txt', 'pine-fan.txt'];

for (const name of NAMES) {
	const file = makePage(name);
	for (const width of Object.keys(WIDTHS)) {
		for (const light of ['light', 'dark']) {
			test(`${name} on a ${width}, ${light}`, async (browser) => {
				const page = await openPage(browser, file);
				await page.setViewportSize({width: WIDTHS[width][0], height: WIDTHS[width][1]});
				await page.emulateMedia({colorScheme: light});
				await forget(page);
				await times(3, () => page.click('#row-next'));
				await times(2, () => page.click('#stitch-next'));
				const png = await page.screenshot({
					path: path.join(pictures, `${name.split('.')[0]}-${width}-${light}.png`),
					animations: 'disabled',
				});
				check(png.length > 5000, 'an empty picture');
				const wide = await page.evaluate(
					() => document.documentElement.scrollWidth - innerWidth
				);
				check(wide <= 0, `${wide} px too wide`);
				const stage = await page.locator('#stage').boundingBox();
				check(stage.width > 200 && stage.height > 50, 'no chart');
				equal(page.faults, []);
			});
		}
	}
}

test('larger is larger, and still fits', async (browser) => {
	const page = await openPage(browser, makePage('lantern-vest.json'));
	await page.setViewportSize({width: 360, height: 740});
	await forget(page);
	const column = () =>
		page.evaluate(() => (chart().column * stage.clientWidth) / shown.viewBox.baseVal.width);
	const plain = await column();
	await page.evaluate(() => localStorage.setItem('tambour-looks', '{"size":"larger"}'));
	await page.reload();
	check(
		(await column()) > 44 && (await column()) > 1.5 * plain,
		`a stitch is ${await column()} px wide`
	);
	check(
		await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth),
		'the page itself scrolls sideways'
	);
	await page.screenshot({path: path.join(pictures, 'lantern-vest-phone-larger.png')});
});

test('printed, there is the chart and no control', async (browser) => {
	const page = await openPage(browser, makePage('lantern-vest.json'));
	await forget(page);
	await page.getByRole('radio', {name: 'M', exact: true}).check();
	await page.click('#row-next');
	await page.click('#stitch-next');
	const pdf = await page.pdf({path: path.join(pictures, 'lantern-vest.pdf'), format: 'A4'});
	equal(pdf.subarray(0, 5).toString(), '%PDF-');
	await page.emulateMedia({media: 'print', colorScheme: 'dark'});
	equal(
		await page
			.locator(
				'button:visible, input:visible, summary:visible, .over:visible, .under:visible'
			)
			.count(),
		0
	);
	equal(await page.locator('.chart:visible').count(), 1);
	check(
		(await page.locator('#rows').innerText()).includes('[63 sts]'),
		'not the rows of the size chosen'
	);
	equal(
		await page.evaluate(() => getComputedStyle(document.body).backgroundColor),
		'rgb(255, 255, 255)'
	);
	equal(
		await page.evaluate(
			() =>
				getComputedStyle(
					document.querySelector('.chart.shown .row:not(.lit):not(.reached)')
				).opacity
		),
		'1'
	);
});
