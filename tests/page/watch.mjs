/* --watch: the page and the chart follow the file that is being written. */
import {spawn} from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import {check, equal, openPage, tambour, test, work} from './browser.mjs';

const pattern = (count) =>
	JSON.stringify({
		format: 1,
		title: 'Strip',
		pieces: [
			{
				name: 'Strip',
				start: 'Ch 9.',
				rows: [`Row 1 (RS): Sc in 2nd ch from hook and in each ch across. [${count} sts]`],
			},
		],
	});

async function until(what, holds) {
	for (let i = 0; i < 100; i++) {
		if (holds()) return;
		await new Promise((done) => setTimeout(done, 50));
	}
	throw new Error(`in five seconds not: ${what}`);
}

function watch(command, input, output) {
	const child = spawn(tambour, [command, '--watch', input, '-o', output], {
		stdio: ['ignore', 'ignore', 'pipe'],
	});
	child.said = '';
	child.stderr.on('data', (text) => {
		child.said += text;
	});
	child.ended = new Promise((done) =>
		child.on('exit', (status, signal) => done(status ?? signal))
	);
	return child;
}

/* As many editors save: beside the file, then in its place. */
function replace(file, text) {
	fs.writeFileSync(`${file}.new`, text);
	fs.renameSync(`${file}.new`, file);
}

test('the page follows the pattern, faults and all', async (browser) => {
	const input = path.join(work, 'watched.json'),
		output = path.join(work, 'watched.html');
	const read = () => (fs.existsSync(output) ? fs.readFileSync(output, 'utf8') : '');
	fs.writeFileSync(input, pattern(8));
	const child = watch('page', input, output);
	try {
		await until('the first page', () => read().includes('<h1>Strip</h1>'));
		check(read().includes('data-watching'), 'the page does not look for changes');
		replace(input, pattern(7));
		await until('the fault in the page', () => read().includes('Not charted yet'));
		const page = await openPage(browser, output);
		const said = await page.locator('pre').textContent();
		/* 9 chains, the first stitch in the 2nd: 8 (arithmetic). */
		check(said.includes('watched.json:1:') && said.includes('row 1'), said);
		equal(await page.locator('.chart').count(), 0);
		equal(page.faults, []);
		fs.writeFileSync(input, pattern(8).replace('Strip', 'Mended'));
		await until('the mended page', () => read().includes('<h1>Mended</h1>'));
	} finally {
		child.kill('SIGINT');
	}
	equal(await child.ended, 0);
});

test('the chart follows the pattern, faults on standard error', async () => {
	const input = path.join(work, 'charted.json'),
		output = path.join(work, 'charted.svg');
	const read = () => (fs.existsSync(output) ? fs.readFileSync(output, 'utf8') : '');
	fs.writeFileSync(input, pattern(8));
	const child = watch('chart', input, output);
	try {
		await until('the first chart', () => read().includes('Strip'));
		replace(input, pattern(7));
		await until('the fault', () => child.said.includes('charted.json:1:'));
		replace(input, pattern(8).replace('Strip', 'Mended'));
		await until('the mended chart', () => read().includes('Mended'));
	} finally {
		child.kill('SIGINT');
	}
	equal(await child.ended, 0);
});

test('standard input cannot be watched', async () => {
	const child = watch('page', '-', path.join(work, 'never.html'));
	equal(await child.ended, 2);
	check(child.said.includes('--watch needs a pattern file'), child.said);
});
