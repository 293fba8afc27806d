/*
 * What is remembered, on this device and nowhere else: the place in this pattern, and how the page
 * looks. Where nothing can be kept (a private window, storage switched off) the page simply forgets.
 */
const PLACE = `tambour-place-${pattern.place}`,
	LOOKS = 'tambour-looks';
const CHOICES = {
	terms: {us: 'US', uk: 'UK'},
	hand: {right: 'Right', left: 'Left'},
	light: {auto: 'As the device', light: 'Light', dark: 'Dark'},
	size: {plain: 'As drawn', larger: 'Larger'},
	contrast: {plain: 'Plain', high: 'High'},
};
const past = [];

function keep(key, value) {
	try {
		localStorage.setItem(key, JSON.stringify(value));
	} catch (error) {
		return false;
	}
	return true;
}

function recall(key) {
	try {
		const value = JSON.parse(localStorage.getItem(key));
		return value && typeof value === 'object' ? value : {};
	} catch (error) {
		return {};
	}
}

/* The nearest place there is: the pattern may have been mended since. */
function settle(to) {
	const whole = (value, from, end) =>
		Math.min(Math.max(Number.isInteger(value) ? value : from, from), Math.max(end, from));
	at.piece = whole(to.piece, 0, pattern.pieces.length - 1);
	at.size = whole(to.size, 0, pattern.sizes.length - 1);
	at.row = whole(to.row, 0, rows().length - 1);
	at.step = whole(to.step, -1, sequenceOf(row()).length - 1);
	at.looked = -1;
}

function placeNow() {
	return {piece: at.piece, size: at.size, row: at.row, step: at.step};
}

/* Moves to another place; the one left is where undo goes. */
function moveTo(change) {
	past.push(placeNow());
	if (past.length > 200) past.shift();
	settle({...placeNow(), ...change});
	keep(PLACE, {...placeNow(), past: past.slice(-20)});
}

function undo() {
	const last = past.pop();
	if (!last) return;
	settle(last);
	keep(PLACE, {...placeNow(), past: past.slice(-20)});
}

function recallPlace() {
	const place = recall(PLACE);
	if (Array.isArray(place.past))
		past.push(...place.past.filter((p) => p && typeof p === 'object').slice(-20));
	settle({size: pattern.first, ...place});
}

function recallLooks() {
	const kept = recall(LOOKS);
	if (matchMedia('(prefers-contrast: more)').matches) looks.contrast = 'high';
	for (const look of Object.keys(CHOICES))
		if (Object.hasOwn(CHOICES[look], kept[look])) looks[look] = kept[look];
}

/* The pattern's own terms and hand hold until the reader chooses others. */
function chooseLook(look, choice) {
	looks[look] = choice;
	keep(LOOKS, {...recall(LOOKS), [look]: choice});
}

const darkness = matchMedia('(prefers-color-scheme: dark)');

function applyLooks() {
	root.dataset.terms = looks.terms;
	root.dataset.hand = looks.hand;
	root.dataset.size = looks.size;
	root.toggleAttribute('data-contrast', looks.contrast === 'high');
	root.toggleAttribute(
		'data-dark',
		looks.light === 'dark' || (looks.light === 'auto' && darkness.matches)
	);
}
