import {openBrowser, runAll, test} from './browser.mjs';

for (const part of ['steps', 'place', 'places', 'safe', 'accessible', 'seen', 'watch']) {
	try {
		await import(`./${part}.mjs`);
	} catch (error) {
		test(`${part}.mjs begins`, () => {
			throw error;
		});
	}
}

process.exitCode = (await runAll(await openBrowser())) ? 0 : 1;
