/* The hands: buttons, keys, touch. Every act ends in show(). */
const STEP_KEYS = ['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight'];

function show() {
	const made = row();
	root.classList.toggle('without-rows', !made);
	root.classList.toggle('begun', at.row > 0 || at.step >= 0);
	showChart();
	byId('undo').disabled = past.length === 0;
	if (!made) {
		byId('no-chart').textContent = 'This piece is not made in this size.';
		byId('no-chart').hidden = false;
		for (const button of document.querySelectorAll('.dock button:not(#undo)'))
			button.disabled = true;
		showOver(-1);
		return;
	}
	byId('no-chart').textContent = 'These rows are not charted: the row stands in words beside.';
	const sequence = sequenceOf(made);
	const placed = at.looked >= 0 ? at.looked : stitchAt(sequence, at.step).placed;
	showOver(placed);
	showRow(sequence);
	showStitch(placed, at.looked >= 0 ? rowOfLooked() : made);
	markRowList();
	sayAloud(sequence, placed);
}

/* The row nearest the one being worked that is worked from the charted row of the stitch looked at. */
function rowOfLooked() {
	const charted = chart().rows.find(
		(r) =>
			at.looked >= r[CHART_ROW.first] && at.looked < r[CHART_ROW.first] + r[CHART_ROW.count]
	);
	const all = rows().filter((made) => chartRowOf(made) === charted);
	return all.filter((made) => made[ROW.number] <= row()[ROW.number]).pop() || all[0];
}

function goToRow(index) {
	if (index >= 0 && index < rows().length) moveTo({row: index, step: -1});
	show();
}

function goBySteps(by) {
	const length = sequenceOf(row()).length,
		step = at.step + by;
	if (at.looked >= 0 && by < 0) at.looked = -1;
	else if (step >= length && at.row < rows().length - 1) moveTo({row: at.row + 1, step: 0});
	else if (step >= -1 && step < length) moveTo({step});
	show();
}

/* The same stitch of the next repeat; after the last one, what follows the box. */
function finishRepeat() {
	const sequence = sequenceOf(row()),
		here = stitchAt(sequence, at.step);
	if (here.time === 0) return;
	const box = sequence.box.length,
		start = sequence.before.length;
	const next = here.time < sequence.times ? at.step + box : start + box * sequence.times;
	if (next < sequence.length) moveTo({step: next});
	else if (at.row < rows().length - 1) moveTo({row: at.row + 1, step: -1});
	show();
}

/* A stitch of the row being worked is where the learner goes; any other is looked at. */
function touch(placed) {
	const sequence = sequenceOf(row()),
		here = stitchAt(sequence, at.step);
	const before = sequence.before.length,
		box = sequence.box.length;
	const inBox = sequence.box.indexOf(placed),
		inBefore = sequence.before.indexOf(placed),
		inAfter = sequence.after.indexOf(placed);
	at.looked = -1;
	if (inBefore >= 0) moveTo({step: inBefore});
	else if (inBox >= 0) moveTo({step: before + (Math.max(here.time, 1) - 1) * box + inBox});
	else if (inAfter >= 0) moveTo({step: before + box * sequence.times + inAfter});
	else at.looked = placed;
	show();
}

function workFromHere() {
	const made = rowOfLooked(),
		placed = at.looked;
	if (!made) return;
	moveTo({row: rows().indexOf(made), step: -1});
	const sequence = sequenceOf(made);
	for (let step = 0; step < sequence.length; step++) {
		if (stitchAt(sequence, step).placed === placed) {
			at.step = step;
			break;
		}
	}
	keep(PLACE, {...placeNow(), past: past.slice(-20)});
	show();
	byId('work').focus();
}

function onKey(event) {
	if (
		(event.ctrlKey || event.metaKey) &&
		!event.shiftKey &&
		event.key.toLowerCase() === 'z' &&
		event.target.tagName !== 'INPUT'
	) {
		event.preventDefault();
		undoLast();
		return;
	}
	const busy = event.target.closest('input, summary, .looks');
	if (
		!STEP_KEYS.includes(event.key) ||
		event.altKey ||
		event.ctrlKey ||
		event.metaKey ||
		event.shiftKey ||
		busy ||
		!row()
	)
		return;
	event.preventDefault();
	if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
		goToRow(at.row + (event.key === 'ArrowUp' ? 1 : -1));
		return;
	}
	const round = isAround(row()),
		onward = round || !isLeftward(row()) ? 'ArrowRight' : 'ArrowLeft';
	goBySteps(event.key === onward ? 1 : -1);
}

/* A swipe over the row's card: to the left the next row, to the right the row before. */
function listenForSwipes(card) {
	let start;
	card.addEventListener('pointerdown', (event) => {
		start =
			event.isPrimary && event.pointerType !== 'mouse'
				? {x: event.clientX, y: event.clientY}
				: undefined;
	});
	card.addEventListener('pointercancel', () => {
		start = undefined;
	});
	card.addEventListener('pointerup', (event) => {
		if (!start) return;
		const x = event.clientX - start.x,
			y = event.clientY - start.y;
		start = undefined;
		if (Math.abs(x) > 50 && Math.abs(x) > 2 * Math.abs(y)) goToRow(at.row + (x < 0 ? 1 : -1));
	});
}

function addChoice(parent, group, value, text, isChosen, choose) {
	const label = make('label'),
		input = make('input');
	label.className = 'pick';
	input.type = 'radio';
	input.name = group;
	input.value = value;
	input.checked = isChosen;
	input.addEventListener('change', choose);
	label.append(input, make('span', text));
	parent.append(label);
}

function addTapes() {
	const tapes = {pieces: pattern.pieces.map((p) => p.name), sizes: pattern.sizes};
	for (const id of Object.keys(tapes)) {
		const key = id === 'sizes' ? 'size' : 'piece';
		byId(id).hidden = tapes[id].length < 2;
		tapes[id].forEach((name, i) =>
			addChoice(byId(id).querySelector('div'), id, i, name, at[key] === i, () => {
				moveTo({[key]: i, ...(key === 'piece' ? {row: 0, step: -1} : {})});
				showRowList();
				show();
			})
		);
	}
}

/* After an undo the size may be another. */
function markTapes() {
	for (const input of document.querySelectorAll('.tape input'))
		input.checked = Number(input.value) === (input.name === 'sizes' ? at.size : at.piece);
	showRowList();
}

function undoLast() {
	undo();
	markTapes();
	show();
}

function addLooks() {
	for (const field of document.querySelectorAll('[data-look]')) {
		const look = field.dataset.look;
		for (const choice of Object.keys(CHOICES[look]))
			addChoice(field, look, choice, CHOICES[look][choice], looks[look] === choice, () => {
				chooseLook(look, choice);
				applyLooks();
				showRowList();
				show();
			});
	}
}

function onClick(id, act) {
	byId(id).addEventListener('click', act);
}

function listen() {
	onClick('row-next', () => goToRow(at.row + 1));
	onClick('row-back', () => goToRow(at.row - 1));
	onClick('stitch-next', () => goBySteps(1));
	onClick('stitch-back', () => goBySteps(-1));
	onClick('repeat-next', finishRepeat);
	onClick('from-here', workFromHere);
	onClick('undo', undoLast);
	byId('table').addEventListener('click', (event) => {
		const placed = row() ? stitchNear(event.clientX, event.clientY) : -1;
		if (placed >= 0) touch(placed);
	});
	byId('go').addEventListener('submit', (event) => {
		event.preventDefault();
		goToRow(rows().findIndex((made) => made[ROW.number] === Number(byId('go-row').value)));
	});
	document.addEventListener('keydown', onKey);
	document.addEventListener('click', (event) => {
		const panel = document.querySelector('.looks');
		if (!panel.contains(event.target)) panel.open = false;
	});
	document.querySelector('.looks').addEventListener('keydown', (event) => {
		if (event.key !== 'Escape') return;
		event.currentTarget.open = false;
		event.currentTarget.querySelector('summary').focus();
	});
	listenForSwipes(byId('row-card'));
	new ResizeObserver(fitChart).observe(byId('table'));
	darkness.addEventListener('change', applyLooks);
	/* While the pattern is being written: look again, unless somebody is at work here. */
	if ('watching' in root.dataset)
		setInterval(() => document.hasFocus() || location.reload(), 2000);
}

recallLooks();
applyLooks();
recallPlace();
root.classList.add('ready');
addTapes();
addLooks();
listen();
showRowList();
show();
