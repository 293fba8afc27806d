import {openBrowser, runAll} from './browser.mjs';
import './steps.mjs';
import './place.mjs';
import './places.mjs';
import './safe.mjs';
import './accessible.mjs';
import './seen.mjs';
import './watch.mjs';

process.exitCode = (await runAll(await openBrowser())) ? 0 : 1;
