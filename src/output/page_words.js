/* What is said: the row and its count, the stitch with its moves, the key and the list of rows. */
const ORDINALS = [
	'',
	'first',
	'second',
	'third',
	'fourth',
	'fifth',
	'sixth',
	'seventh',
	'eighth',
	'ninth',
	'tenth',
];

function ordinal(n) {
	if (n < ORDINALS.length) return ORDINALS[n];
	const last = n % 10,
		teens = n % 100 > 10 && n % 100 < 14;
	return n + (teens || last === 0 || last > 3 ? 'th' : ['st', 'nd', 'rd'][last - 1]);
}

function capital(text) {
	return text.charAt(0).toUpperCase() + text.slice(1);
}

function short(kind) {
	return looks.terms === 'uk' ? kind.uk : kind.us;
}

function rowWord(made) {
	return made[ROW.way] & ROUND ? 'round' : 'row';
}

/* A text that sizes share but for some stretches, for this size. */
function chosen(parts) {
	return (parts || []).map((part) => (Array.isArray(part) ? part[at.size] || '' : part)).join('');
}

function wordsOf(number) {
	return chosen(pattern.pieces[at.piece][looks.terms][number]);
}

/* Without its head: number and side stand above it, and a row worked again has another number. */
function writtenRow(made) {
	const words = wordsOf(made[ROW.number]) || wordsOf(made[ROW.written]);
	return words.replace(/^R(ow|nd)s? \d[^:]*: /, '');
}

function sayAgain() {
	const made = row(),
		same = (r) => r[ROW.written] === made[ROW.written];
	const times = rows().filter(same).length,
		now = rows()
			.slice(0, at.row + 1)
			.filter(same).length;
	if (times < 2) return '';
	const again = sizeOfPiece().again.find(
		(r) => made[ROW.written] >= r[0] && made[ROW.written] <= r[1]
	);
	const word = rowWord(made);
	if (!again) return `${capital(ordinal(now))} time of ${times}, as ${word} ${made[ROW.written]}`;
	const which =
		again[0] === again[1] ? `${word} ${again[0]}` : `${word}s ${again[0]}–${again[1]}`;
	return `${capital(ordinal(now))} time through ${which}, ${times} in all`;
}

/* Rounds run anticlockwise for the right hand; seen from outside, inward, the other way. */
function isClockwise(made) {
	const charted = chartRowOf(made);
	return (looks.hand === 'left') !== Boolean(charted && charted[CHART_ROW.lay] === INWARD);
}

function sayWay() {
	const made = row(),
		side =
			made[ROW.side] === RIGHT_SIDE
				? 'Right side, '
				: made[ROW.side] === WRONG_SIDE
					? 'Wrong side, '
					: '';
	if (isAround(made)) return capital(`${side}${isClockwise(made) ? 'clockwise' : 'anticlockwise'}`);
	return capital(`${side}${isLeftward(made) ? 'right to left' : 'left to right'}`);
}

function wayArrow() {
	if (isAround(row()))
		return isClockwise(row())
			? 'M8 16A15 15 0 0 1 34 12M28 13L34 12L35 5'
			: 'M36 16A15 15 0 0 0 10 12M16 13L10 12L9 5';
	return isLeftward(row()) ? 'M42 10H3M11 3L3 10L11 17' : 'M2 10H41M33 3L41 10L33 17';
}

/* "Stitch 12 of 51, repeat 3 of 12" */
function sayCount(sequence) {
	const total = row()[ROW.stitches],
		here = stitchAt(sequence, at.step);
	if (at.step < 0) return `${total} ${total === 1 ? 'stitch' : 'stitches'} in this size`;
	const stitch = chart().stitches[here.placed];
	const counted = stitch[STITCH.flags] & COUNTED;
	const place = counted ? `Stitch ${countTo(sequence, at.step)} of ${total}` : 'Not in the count';
	return here.time > 0 ? `${place} · repeat ${here.time} of ${sequence.times}` : place;
}

function stitchName(stitch) {
	const kind = pattern.stitches[stitch[STITCH.kind]];
	return stitch[STITCH.flags] & TURNING ? `ch ${stitch[STITCH.chains]}` : short(kind);
}

/* The row a base stands in, by the numbers of this size. */
function rowBelow(made, stitch) {
	const number = made[ROW.number] - stitch[STITCH.rowsBelow];
	return number > 0 ? `${rowWord(made)} ${number}` : 'the foundation';
}

/* On a row worked again the base may be another kind of stitch than the chart shows. */
function baseName(made, stitch, plain) {
	const base = chart().stitches[stitch[STITCH.bases][0]];
	const charted = chartRowOf(made);
	return base && charted && charted[CHART_ROW.number] === made[ROW.number]
		? stitchName(base)
		: plain;
}

function sayPost(made, stitch) {
	const below = stitch[STITCH.rowsBelow];
	const down = below === 1 ? 'in the row below' : `${below} rows below`;
	const around = `Around the post of the ${baseName(made, stitch, 'stitch')} ${down}, in ${rowBelow(made, stitch)}.`;
	if (stitch[STITCH.behind] < 0) return around;
	const behind = chart().stitches[stitch[STITCH.behind]];
	return `${around} Leave the ${stitchName(behind)} behind it unworked.`;
}

function sayTurning(stitch) {
	const counts = stitch[STITCH.flags] & COUNTED;
	return (
		`${stitch[STITCH.chains]} ${plural('chain', stitch[STITCH.chains])} to bring the hook up. ` +
		(counts ? 'Counts as the first stitch.' : 'Does not count as a stitch.')
	);
}

function sayWhere(made, stitch) {
	const flags = stitch[STITCH.flags],
		kind = pattern.stitches[stitch[STITCH.kind]];
	const bases = stitch[STITCH.bases].length;
	if (flags & TURNING) return sayTurning(stitch);
	if (bases === 0)
		return flags & CHAIN ? 'Into nothing: a chain hangs from the loop on the hook.' : '';
	if (kind.post) return sayPost(made, stitch);
	const loop =
		flags & FRONT_LOOP
			? ', through the front loop only'
			: flags & BACK_LOOP
				? ', through the back loop only'
				: '';
	const crossed = flags & BEHIND ? ' It passes behind the stitches just made.' : '';
	if (flags & IN_SPACE)
		return bases === 2
			? `Between two stitches of ${rowBelow(made, stitch)}.`
			: `Into the chain space of ${rowBelow(made, stitch)}.`;
	if (bases > 1)
		return `Into ${bases} stitches of ${rowBelow(made, stitch)}, drawn together${loop}.${crossed}`;
	return `Into the ${baseName(made, stitch, 'stitch')} of ${rowBelow(made, stitch)}${loop}.${crossed}`;
}

/* A hook with as many loops on it. */
function drawLoops(parent, loops) {
	const svg = draw(parent, 'svg', {
		viewBox: `0 0 ${16 + loops * 8} 24`,
		'aria-hidden': 'true',
		focusable: 'false',
	});
	draw(svg, 'path', {
		class: 'hook',
		d: `M2 9q0 3.500 4 3.500H${14 + loops * 8}M2 9q1.500-2.500 4.500-1`,
	});
	for (let i = 0; i < loops; i++)
		draw(svg, 'path', {d: `M${13 + i * 8} 3q6 9.500 0 19q-6-9.500 0-19z`});
}

function showMoves(stitch) {
	const kind = pattern.stitches[stitch[STITCH.kind]];
	const moves = stitch[STITCH.flags] & TURNING ? [] : kind[`${looks.terms}Moves`];
	byId('moves').replaceChildren(
		...moves.map((move) => {
			const item = make('li'),
				loops = make('span');
			loops.className = 'loops';
			item.append(make('span', move[0]), loops);
			drawLoops(loops, move[1]);
			loops.append(make('span', `${move[1]} ${plural('loop', move[1])}`));
			return item;
		})
	);
}

function showStitch(placed, made) {
	const drawn = byId('stitch-drawn'),
		stitch = placed >= 0 ? chart().stitches[placed] : undefined;
	drawn.replaceChildren();
	byId('from-here').hidden = at.looked < 0;
	if (!stitch) {
		byId('stitch-head').textContent = 'Stitch';
		byId('stitch-other').textContent = '';
		byId('stitch-where').textContent = 'Step through the row, or touch a stitch on the chart.';
		byId('moves').replaceChildren();
		return;
	}
	const kind = pattern.stitches[stitch[STITCH.kind]];
	const symbol = document.querySelector(`.key [data-stitch="${stitch[STITCH.kind]}"] svg`);
	if (symbol) drawn.append(symbol.cloneNode(true));
	const uk = looks.terms === 'uk';
	byId('stitch-head').textContent = `${stitchName(stitch)}: ${uk ? kind.ukName : kind.usName}`;
	byId('stitch-other').textContent = uk
		? `US ${kind.us}, ${kind.usName}`
		: `UK ${kind.uk}, ${kind.ukName}`;
	byId('stitch-where').textContent = made ? sayWhere(made, stitch) : '';
	showMoves(stitch);
}

function showRow(sequence) {
	const made = row(),
		head = byId('row-head');
	const number = make('b', made[ROW.number]);
	number.className =
		isAround(made) ? '' : isLeftward(made) ? 'leftward' : 'rightward';
	head.replaceChildren(
		make('span', capital(rowWord(made))),
		' ',
		number,
		' ',
		make('span', `of ${rows()[rows().length - 1][ROW.number]}`)
	);
	byId('way').textContent = sayWay();
	byId('way-arrow').setAttribute('d', wayArrow());
	byId('again').textContent = sayAgain();
	byId('written').textContent = writtenRow(made);
	byId('count').textContent = sayCount(sequence);
	byId('done').setAttribute(
		'width',
		sequence.length ? (100 * (at.step + 1)) / sequence.length : 0
	);
	byId('go-row').max = rows()[rows().length - 1][ROW.number];
	const leftward = isLeftward(made),
		round = isAround(made);
	byId('sign-next').textContent = round ? '→' : leftward ? '←' : '→';
	byId('sign-back').textContent = round ? '←' : leftward ? '→' : '←';
	const here = stitchAt(sequence, at.step);
	byId('repeat-next').disabled = here.time === 0;
	byId('repeat-said').textContent = here.time > 0 ? `Repeat ${here.time} done` : 'Repeat done';
	byId('stitch-next').disabled = sequence.length === 0;
	byId('stitch-back').disabled = at.step < 0;
	byId('row-back').disabled = at.row === 0;
	byId('row-next').disabled = at.row === rows().length - 1;
}

function showRowList() {
	const list = make('ol'),
		parts = pattern.pieces[at.piece][looks.terms];
	for (const number of Object.keys(parts)
		.map(Number)
		.sort((a, b) => a - b)) {
		const text = wordsOf(number);
		if (!text) continue;
		const item = make('li', text);
		item.dataset.number = number;
		list.append(item);
	}
	const runs = sizeOfPiece()
		.again.map((r) => `${r[0] === r[1] ? 'Row' : 'Rows'} ${r[0]}–${r[1]}`)
		.join(', ');
	if (runs) list.append(make('li', `Work ${runs} over and over: ${rows().length} rows in all.`));
	byId('rows-head').textContent = pattern.sizes[at.size]
		? `Rows, size ${pattern.sizes[at.size]}`
		: 'Rows';
	byId('rows').replaceChildren(list);
}

function markRowList() {
	const made = row();
	const now = [made[ROW.number], made[ROW.written]]
		.map((n) => byId('rows').querySelector(`[data-number="${n}"]`))
		.find(Boolean);
	for (const item of byId('rows').querySelectorAll('[aria-current]'))
		item.removeAttribute('aria-current');
	if (now) now.setAttribute('aria-current', 'step');
}

function sayAloud(sequence, placed) {
	const made = row(),
		words = [];
	if (at.step < 0)
		words.push(
			`${capital(rowWord(made))} ${made[ROW.number]} of ${rows()[rows().length - 1][ROW.number]}. ${sayWay()}.`,
			`${sayAgain()}.`,
			writtenRow(made)
		);
	if (placed >= 0)
		words.push(
			`${stitchName(chart().stitches[placed])}.`,
			at.looked < 0 ? `${sayCount(sequence)}.` : '',
			byId('stitch-where').textContent
		);
	byId('spoken').textContent = words.filter((w) => w && w !== '.').join(' ');
}
