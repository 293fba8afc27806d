/* Whatever a pattern says stays text; the page asks nobody for anything. */
import fs from 'node:fs';
import http from 'node:http';
import {check, equal, forget, makePage, openBrowser, openPage, test, textOf} from './browser.mjs';

const EVIL =
	'</script></title></style><script>window.bad=1</script><img src=x onerror="window.bad=2">&amp;{{data}}<!--';

test('markup in a pattern stays text', async (browser) => {
	const file = makePage({
		format: 1,
		title: EVIL,
		designer: EVIL,
		about: EVIL,
		notes: EVIL,
		licence: EVIL,
		hook: '5 mm',
		sizes: ['<b>S', '"M\'&'],
		yarn: {weight: 4, note: EVIL},
		stitches: [
			{
				us: 'zz',
				us_name: '<i onclick=bad>',
				uk: 'zz',
				uk_name: '<b>\'"&amp;',
				height: 1,
				takes: 1,
				moves: 'insert, draw up, through 2',
				symbol: {form: 'cross', legs: 1, bars: 0, meet: 'nowhere', post: 'none'},
			},
		],
		pieces: [
			{
				name: EVIL,
				start: 'Ch 5 (7).',
				rows: ['Row 1 (RS): Zz in 2nd ch from hook and in each ch across, turn.'],
			},
			{
				name: 'B',
				start: 'Ch 5 (7).',
				rows: ['Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.'],
			},
		],
	});
	const page = await openPage(browser, file);
	equal(await page.evaluate(() => window.bad), undefined);
	equal(await page.locator('h1').textContent(), EVIL);
	equal(await page.title(), EVIL);
	equal(await page.locator('img, i, b b').count(), 0);
	equal(await page.locator('script').count(), 2);
	equal(await page.locator('#pieces label span').first().textContent(), EVIL);
	equal(await page.locator('#sizes label span').allTextContents(), ['<b>S', '"M\'&']);
	await page.click('#stitch-next');
	await page.click('#stitch-next');
	equal(await textOf(page, 'stitch-head'), 'zz: <i onclick=bad>');
	equal(page.faults, []);
});

test('nothing is asked of anybody', async () => {
	const html = fs.readFileSync(makePage('lantern-vest.json'));
	check(html.length < 400 * 1024, `${html.length} bytes`);
	const asked = [],
		sent = [];
	const server = http
		.createServer((request, response) => {
			asked.push(request.url);
			response.setHeader('Content-Type', 'text/html');
			response.end(html);
		})
		.listen(0, '127.0.0.1');
	await new Promise((ready) => server.once('listening', ready));
	const browser = await openBrowser();
	browser.on('request', (request) => sent.push(request.url()));
	const url = `http://127.0.0.1:${server.address().port}/lesson.html`;
	const page = await openPage(browser, url);
	for (const id of ['row-next', 'stitch-next', 'undo']) await page.click(`#${id}`);
	await page.waitForTimeout(300);
	equal(asked, ['/lesson.html']);
	equal(
		sent.filter((u) => !u.startsWith('data:')),
		[url]
	);
	equal(page.faults, []);
	/* And nothing could be: the policy says no. */
	const stopped = await page.evaluate(() =>
		Promise.all([
			fetch('/other').then(
				() => 'went',
				() => 'stopped'
			),
			new Promise((say) => {
				const image = new Image();
				image.onload = () => say('went');
				image.onerror = () => say('stopped');
				image.src = '/other.png';
			}),
			new Promise((say) => {
				const script = document.createElement('script');
				script.textContent = 'window.foreign = true';
				document.body.append(script);
				say(window.foreign ? 'went' : 'stopped');
			}),
		])
	);
	equal(stopped, ['stopped', 'stopped', 'stopped']);
	equal(asked, ['/lesson.html']);
	await browser.close();
	server.close();
});

test("no style or script but the page's own, no address in it", async (browser) => {
	const file = makePage('lantern-vest.json'),
		html = fs.readFileSync(file, 'utf8');
	equal(html.match(/\s(?:style|on[a-z]+)=["']/g), null);
	equal(
		[...html.matchAll(/https?:\/\/[^"'\s<]*/g)]
			.map((m) => m[0])
			.filter((u) => u !== 'http://www.w3.org/2000/svg'),
		[]
	);
	const policy = await (
		await openPage(browser, file)
	)
		.locator('meta[http-equiv=Content-Security-Policy]')
		.getAttribute('content');
	check(policy.startsWith("default-src 'none'; style-src 'sha256-"), policy);
	check(!policy.includes('unsafe'), policy);
});

test('two runs give the same bytes', async () => {
	check(
		fs
			.readFileSync(makePage('moon-disc.txt'))
			.equals(fs.readFileSync(makePage('moon-disc.txt'))),
		'they differ'
	);
});

test('without script there are still the chart, the key and all rows', async () => {
	const browser = await openBrowser({javaScriptEnabled: false});
	const page = await openPage(browser, makePage('lantern-vest.json'));
	equal(await page.locator('.chart:visible').count(), 1);
	equal(await page.locator('.key li:visible').count(), 4);
	check(
		(await page.locator('#rows').innerText()).includes('[51 (55, 63, 67, 75, 79, 87) sts]'),
		'no rows'
	);
	equal(await page.locator('button:visible').count(), 0);
	await browser.close();
});

test('what is kept in one pattern does not disturb another', async (browser) => {
	const page = await openPage(browser, makePage('lantern-vest.json'));
	await forget(page);
	await page.click('#row-next');
	const other = await openPage(browser, makePage('moon-disc.txt'));
	check(/1\s+of 4/.test(await textOf(other, 'row-head')), await textOf(other, 'row-head'));
});
