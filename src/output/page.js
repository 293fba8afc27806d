/*
 * How the page works. The pattern is one object, never changed; `at` is where the learner is, and
 * every act changes `at` and shows everything anew. page_chart.js draws over the chart, page_words.js
 * says rows and stitches, page_place.js remembers, page_steps.js is the hands: buttons, keys, touch.
 *
 * The lists in the pattern are short; these are their fields.
 */
const ROW = {number: 0, written: 1, side: 2, way: 3, stitches: 4};
const CHART_ROW = {number: 0, below: 1, first: 2, count: 3, lay: 4};
const STITCH = {
	kind: 0,
	column: 1,
	x: 2,
	y: 3,
	angle: 4,
	height: 5,
	flags: 6,
	chains: 7,
	rowsBelow: 8,
	behind: 9,
	bases: 10,
	feet: 11,
};
const TURNING = 1,
	COUNTED = 2,
	IN_SPACE = 4,
	FRONT_LOOP = 8,
	BACK_LOOP = 16,
	CHAIN = 32,
	BEHIND = 64;
const RIGHT_SIDE = 1,
	WRONG_SIDE = 2;
/* Of a row's way: worked leftward for the right hand; a round. */
const LEFTWARD = 1;
const ROUND = 2;
/* How a row lies on the chart: flat, or around a middle, outward or inward. */
const INWARD = 2;

const pattern = JSON.parse(document.getElementById('pattern').textContent);
const root = document.documentElement;

/*
 * Runs set out: behind a stitch stands how many follow it, each as far on from the one before.
 * Numbers below 0 are no stitch, and stay so.
 */
function setOutStitches(list) {
	const all = [];
	for (const entry of list) {
		if (!entry.on) {
			all.push(entry);
			continue;
		}
		const first = all[all.length - 1],
			[count, column, x, y, behind, base, footX, footY] = entry.on;
		for (let n = 1; n <= count; n++) {
			const next = [...first],
				on = (value, by) => (value < 0 ? value : value + n * by);
			next[STITCH.column] += n * column;
			next[STITCH.x] += n * x;
			next[STITCH.y] += n * y;
			next[STITCH.behind] = on(first[STITCH.behind], behind);
			next[STITCH.bases] = first[STITCH.bases].map((b) => on(b, base));
			next[STITCH.feet] = first[STITCH.feet].map((f, i) => f + n * (i % 2 ? footY : footX));
			all.push(next);
		}
	}
	return all;
}

/* The same for symbols: a <use> may say how many like it follow, and how far apart. */
function setOutSymbols() {
	for (const use of document.querySelectorAll('[data-on]')) {
		const [count, dx, dy] = use.dataset.on.split(' ').map(Number);
		const x = Number(use.getAttribute('x')),
			y = Number(use.getAttribute('y'));
		delete use.dataset.on;
		for (let n = count; n > 0; n--) {
			const next = use.cloneNode();
			next.setAttribute('x', (x + n * dx).toFixed(2));
			next.setAttribute('y', (y + n * dy).toFixed(2));
			use.after(next);
		}
	}
}

for (const each of pattern.charts) each.stitches = setOutStitches(each.stitches);
setOutSymbols();

/* Where the learner is: `row` counts from 0 in the size's own rows, `step` from 0 in the row, -1
   before its first stitch. `looked` is a stitch touched in another row, or -1. */
const at = {piece: 0, size: pattern.first, row: 0, step: -1, looked: -1};
/* How the page looks. */
const looks = {
	terms: pattern.terms,
	hand: pattern.hand,
	light: 'auto',
	size: 'plain',
	contrast: 'plain',
};

function byId(id) {
	return document.getElementById(id);
}

function make(name, text) {
	const element = document.createElement(name);
	if (text !== undefined) element.textContent = text;
	return element;
}

function plural(word, count) {
	return count === 1 ? word : `${word}s`;
}

function draw(parent, name, attributes) {
	const element = document.createElementNS('http://www.w3.org/2000/svg', name);
	for (const key of Object.keys(attributes)) element.setAttribute(key, attributes[key]);
	parent.append(element);
	return element;
}

function sizeOfPiece() {
	return pattern.pieces[at.piece].sizes[at.size];
}

function rows() {
	return sizeOfPiece().rows;
}

function row() {
	return rows()[at.row];
}

function chart() {
	const number = pattern.pieces[at.piece].charts[at.size];
	return number < 0 ? undefined : pattern.charts[number];
}

/* The charted row a row is worked from: itself, or the row that it repeats. */
function chartRowOf(made) {
	const all = chart() ? chart().rows : [];
	return (
		all.find((r) => r[CHART_ROW.number] === made[ROW.number] && !r[CHART_ROW.below]) ||
		all.find((r) => r[CHART_ROW.number] === made[ROW.written] && !r[CHART_ROW.below])
	);
}

function isInBox(stitch) {
	const box = chart().box;
	return box && stitch[STITCH.column] > box[0] && stitch[STITCH.column] <= box[0] + box[1];
}

/*
 * A row as it is worked in this size: what stands before the box, in it, and after it, and how often
 * the box is worked. Without a box all of it stands before.
 */
function sequenceOf(made) {
	const charted = made && chartRowOf(made);
	const sequence = {before: [], box: [], after: [], times: 0, length: 0};
	if (!charted) return sequence;
	const first = charted[CHART_ROW.first],
		end = first + charted[CHART_ROW.count];
	const stitches = chart().stitches;
	let from = end,
		to = first;
	for (let i = first; i < end; i++) {
		if (isInBox(stitches[i])) {
			from = Math.min(from, i);
			to = i + 1;
		}
	}
	for (let i = first; i < end; i++)
		(i < from ? sequence.before : i < to ? sequence.box : sequence.after).push(i);
	const box = chart().box;
	/* A repeat that is drawn beside the box is one of them. */
	sequence.times = sequence.box.length > 0 ? Math.max(box[2][at.size] - box[4], 0) : 0;
	sequence.length =
		sequence.before.length + sequence.box.length * sequence.times + sequence.after.length;
	return sequence;
}

/* What a step of a sequence is: the stitch on the chart, and the time through the box, from 1. */
function stitchAt(sequence, step) {
	const before = sequence.before.length,
		box = sequence.box.length;
	if (step < 0 || step >= sequence.length) return {placed: -1, time: 0};
	if (step < before) return {placed: sequence.before[step], time: 0};
	if (step < before + box * sequence.times)
		return {
			placed: sequence.box[(step - before) % box],
			time: Math.floor((step - before) / box) + 1,
		};
	return {placed: sequence.after[step - before - box * sequence.times], time: 0};
}

/* How many stitches that count there are up to and with a step; chains to turn may not. */
function countTo(sequence, step) {
	const counts = (i) => (chart().stitches[i][STITCH.flags] & COUNTED ? 1 : 0);
	const sum = (list) => list.reduce((total, i) => total + counts(i), 0);
	const before = sequence.before.length,
		box = sequence.box.length;
	if (step < before) return sum(sequence.before.slice(0, step + 1));
	const inBox = Math.min(step + 1 - before, box * sequence.times);
	const whole = box > 0 ? Math.floor(inBox / box) : 0;
	return (
		sum(sequence.before) +
		whole * sum(sequence.box) +
		sum(sequence.box.slice(0, inBox - whole * box)) +
		sum(sequence.after.slice(0, step + 1 - before - inBox))
	);
}

/* Which way a row is worked on the chart as it is shown. */
function isLeftward(made) {
	return Boolean(made[ROW.way] & LEFTWARD) !== (looks.hand === 'left');
}

/* Whether a row lies around a middle on the chart; a tube's rounds lie flat. */
function isAround(made) {
	const charted = chartRowOf(made);
	return charted ? charted[CHART_ROW.lay] > 0 : Boolean(made[ROW.way] & ROUND);
}
