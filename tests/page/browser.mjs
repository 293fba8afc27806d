/* A browser, pages made by the program, and a count of what holds. */
import {fileURLToPath} from 'node:url';
import {execFileSync} from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import {chromium} from 'playwright-core';

const FLAGS = [
	'--headless',
	'--no-sandbox',
	'--disable-gpu',
	'--disable-quic',
	'--no-first-run',
	'--disable-background-networking',
	'--disable-component-update',
	'--disable-sync',
];

export const [tambour, work, pictures] = process.argv.slice(2);
export const examples = fileURLToPath(new URL('../../examples', import.meta.url));

let passed = 0,
	failed = 0,
	profiles = 0;
const tests = [];

export function test(name, run) {
	tests.push({name, run});
}

export function check(holds, what) {
	if (!holds) throw new Error(what);
}

export function equal(got, wanted, what = '') {
	check(
		JSON.stringify(got) === JSON.stringify(wanted),
		`${what} got ${JSON.stringify(got)}, not ${JSON.stringify(wanted)}`
	);
}

/* The page of an example, or of a pattern given as an object. */
export function makePage(pattern, ...options) {
	let input = path.join(examples, String(pattern));
	if (typeof pattern !== 'string') {
		input = path.join(work, `pattern-${fs.readdirSync(work).length}.json`);
		fs.writeFileSync(input, JSON.stringify(pattern));
	}
	const output = path.join(work, `page-${fs.readdirSync(work).length}.html`);
	execFileSync(tambour, ['page', input, '-o', output, ...options], {
		stdio: ['ignore', 'ignore', 'pipe'],
	});
	return output;
}

/* The chart of an example or a pattern as JSON: every stitch's place, by another way than the page. */
export function chartOf(pattern, ...options) {
	const input =
		typeof pattern === 'string'
			? path.join(examples, pattern)
			: path.join(work, 'charted-alone.json');
	if (typeof pattern !== 'string') fs.writeFileSync(input, JSON.stringify(pattern));
	const output = path.join(work, 'chart-alone.json');
	execFileSync(tambour, ['chart', input, '-o', output, ...options], {
		stdio: ['ignore', 'ignore', 'pipe'],
	});
	return JSON.parse(fs.readFileSync(output, 'utf8'));
}

/* A browser with nothing remembered. Faults of the page's script and policy are kept in `faults`. */
export async function openBrowser(options = {}) {
	const browser = await chromium.launchPersistentContext(
		path.join(work, `profile-${profiles++}`),
		{
			executablePath: '/usr/bin/chromium',
			headless: true,
			args: FLAGS,
			viewport: {width: 1280, height: 900},
			...options,
		}
	);
	browser.setDefaultTimeout(8000);
	return browser;
}

export async function openPage(browser, file, before) {
	const page = await browser.newPage();
	page.faults = [];
	page.on('pageerror', (error) => page.faults.push(error.message));
	page.on('console', (message) => message.type() === 'error' && page.faults.push(message.text()));
	if (before) await page.addInitScript(before);
	await page.goto(file.startsWith('http') ? file : `file://${file}`);
	return page;
}

/* Forgets what other tests left. */
export async function forget(page) {
	await page.evaluate(() => localStorage.clear());
	await page.reload();
}

export const textOf = (page, id) => page.locator(`#${id}`).innerText();

export async function times(count, act) {
	for (let i = 0; i < count; i++) await act();
}

export async function runAll(browser) {
	for (const {name, run} of tests) {
		try {
			await run(browser);
			passed++;
		} catch (error) {
			failed++;
			console.log(
				`FAIL ${name}\n     ${String(error.message).split('\n').slice(0, 12).join('\n     ')}`
			);
		}
		/* The first page stays, for without one the browser closes. */
		for (const page of browser.pages().slice(1)) await page.close();
	}
	await browser.close();
	console.log(`${passed} passed, ${failed} failed`);
	return failed === 0;
}
