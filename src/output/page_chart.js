/*
 * What lies on the chart: under the ink the row being worked and the rows it reaches into, over it
 * the stitch, its thread and its base. Nothing here is told by colour alone: the row is a band with
 * edges and chevrons, a row reached into is dotted, a base is solid, a stitch left behind is dashed.
 */
const stage = byId('stage');
const under = draw(stage, 'svg', {class: 'under', 'aria-hidden': 'true', focusable: 'false'});
const over = draw(stage, 'svg', {class: 'over', 'aria-hidden': 'true', focusable: 'false'});
stage.prepend(under);

let shown;

/* A stitch where it is for the hand that holds the hook. */
function spotOf(stitch) {
	const left = looks.hand === 'left';
	const angle = left ? -stitch[STITCH.angle] : stitch[STITCH.angle];
	const turn = (x) => (left ? chart().mirror - x : x);
	const feet = [];
	for (let i = 0; i < stitch[STITCH.feet].length; i += 2)
		feet.push({x: turn(stitch[STITCH.feet][i]), y: stitch[STITCH.feet][i + 1]});
	const x = turn(stitch[STITCH.x]),
		y = stitch[STITCH.y];
	const height = Math.max(stitch[STITCH.height], 0);
	const stand = {x: x - Math.sin(angle) * height, y: y + Math.cos(angle) * height};
	return {x, y, angle, height, feet, stand, middle: {x: (x + stand.x) / 2, y: (y + stand.y) / 2}};
}

function spotsOf(charted) {
	const first = charted[CHART_ROW.first];
	return chart()
		.stitches.slice(first, first + charted[CHART_ROW.count])
		.map(spotOf);
}

function showChart() {
	const number = pattern.pieces[at.piece].charts[at.size];
	shown = undefined;
	for (const svg of stage.querySelectorAll('.chart')) {
		const chosen = Number(svg.dataset.chart) === number && svg.classList.contains(looks.hand);
		svg.classList.toggle('shown', chosen);
		svg.classList.add('following');
		if (chosen) shown = svg;
	}
	byId('table').hidden = !shown;
	byId('no-chart').hidden = Boolean(shown) && Boolean(row() && chartRowOf(row()));
	if (!shown) return;
	under.setAttribute('viewBox', shown.getAttribute('viewBox'));
	over.setAttribute('viewBox', shown.getAttribute('viewBox'));
	fitChart();
	showTimes();
}

/* As wide as the table, but a stitch never narrower than can be touched with some care. */
function fitChart() {
	if (!shown) return;
	const box = shown.viewBox.baseVal,
		column = chart().column;
	const least = looks.size === 'larger' ? 48 : 23,
		most = looks.size === 'larger' ? 84 : 60;
	const beside = matchMedia('(min-width: 60rem)').matches;
	const high =
		looks.size === 'larger' ? Infinity : beside ? innerHeight - 260 : innerHeight * 0.5;
	const enough = least * 0.74;
	const fit = Math.min(byId('table').clientWidth / box.width, high / box.height);
	const scale = Math.min(
		looks.size !== 'larger' && fit * column > enough ? fit : Math.max(fit, least / column),
		most / column
	);
	stage.style.width = `${Math.floor(scale * box.width)}px`;
}

/* The words under the box, for this size alone. */
function showTimes() {
	const said = shown.querySelector('.times'),
		box = chart().box;
	if (!said || !box) return;
	const times = box[2][at.size];
	const what = box[3] > 0 ? `${box[3]} ${plural('st', box[3])},` : 'repeat';
	said.textContent = `${what} ${times} ${plural('time', times)}${box[4] > 0 ? ' in all' : ''}`;
}

function pair(p) {
	return `${p.x.toFixed(2)} ${p.y.toFixed(2)}`;
}

function lineThrough(points) {
	return points.map((p, i) => (i ? 'L' : 'M') + pair(p)).join('');
}

function curveTo(a, b, end) {
	return `C${pair(a)} ${pair(b)} ${pair(end)}`;
}

/*
 * A row's band: where its stitches are of a height, a line through their middles as wide as they are
 * high; in lace, where chains hang between tall stitches, a fat line along every stitch.
 */
function bandOf(charted) {
	const spots = spotsOf(charted),
		column = chart().column;
	const heights = spots.map((s) => s.height).sort((a, b) => a - b);
	const height = heights.length ? heights[Math.floor(heights.length / 2)] : 0;
	const alike = spots.filter((s) => Math.abs(s.height - height) < 0.7 * column);
	/* A join or a chain among many tall stitches does not bend the band. */
	const flat = alike.length > 0.88 * spots.length;
	return {
		points: (flat ? alike : spots).map((s) => s.middle),
		spots,
		flat,
		width: flat ? Math.max(height, 0.45 * column) + 0.3 * column : 0.9 * column,
	};
}

/* A line on at both ends by BY, so that it does not stop short of its end stitches. */
function longer(points, by) {
	const on = (from, to) => {
		const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
		return {
			x: to.x + ((to.x - from.x) / length) * by,
			y: to.y + ((to.y - from.y) / length) * by,
		};
	};
	const last = points.length - 1;
	if (last < 1)
		return points.flatMap((p) => [
			{x: p.x - by, y: p.y},
			{x: p.x + by, y: p.y},
		]);
	return [on(points[1], points[0]), ...points, on(points[last - 1], points[last])];
}

/* Small chevrons between the stitches, pointing the way the row is worked. */
function drawChevrons(points) {
	const size = chart().column * 0.16;
	for (let i = 1; i < points.length; i++) {
		const a = points[i - 1],
			b = points[i],
			length = Math.hypot(b.x - a.x, b.y - a.y);
		if (length < chart().column * 0.4) continue;
		const ux = (b.x - a.x) / length,
			uy = (b.y - a.y) / length;
		const x = (a.x + b.x) / 2,
			y = (a.y + b.y) / 2;
		draw(under, 'path', {
			class: 'chevron',
			'stroke-width': size * 0.55,
			d: lineThrough([
				{x: x - ux * size - uy * size, y: y - uy * size + ux * size},
				{x: x + ux * size * 0.4, y: y + uy * size * 0.4},
				{x: x - ux * size + uy * size, y: y - uy * size - ux * size},
			]),
		});
	}
}

function drawRow(charted) {
	const band = bandOf(charted),
		column = chart().column,
		pen = column * 0.045;
	const out = isAround(row()) ? 0 : column * 0.6;
	const along = band.spots.map((s) => lineThrough([s, s.stand])).join('');
	const path = (by) =>
		band.flat ? lineThrough(longer(band.points, by)) : along + lineThrough(band.points);
	const shape = band.flat ? 'flat' : '';
	draw(under, 'path', {
		class: `lit-edge ${shape}`,
		'stroke-width': band.width + 2 * pen,
		d: path(out + pen),
	});
	draw(under, 'path', {class: `lit ${shape}`, 'stroke-width': band.width, d: path(out)});
	drawChevrons(band.points);
}

/* The rows that a row's stitches are worked into. */
function rowsReached(charted) {
	const stitches = chart().stitches,
		first = charted[CHART_ROW.first],
		reached = new Set();
	for (let i = first; i < first + charted[CHART_ROW.count]; i++)
		for (const base of stitches[i][STITCH.bases])
			reached.add(
				chart().rows.findIndex(
					(r) =>
						base >= r[CHART_ROW.first] && base < r[CHART_ROW.first] + r[CHART_ROW.count]
				)
			);
	reached.delete(chart().rows.indexOf(charted));
	reached.delete(-1);
	return reached;
}

function drawReached(charted) {
	const band = bandOf(charted),
		column = chart().column;
	const low = band.spots.map((s) => ({x: s.stand.x, y: s.stand.y + column * 0.14}));
	const out = charted[CHART_ROW.lay] ? 0 : column * 0.4;
	if (band.flat)
		draw(under, 'path', {
			class: 'reach',
			'stroke-width': column * 0.075,
			d: lineThrough(longer(low, out)),
			'stroke-dasharray': `0.01 ${column * 0.2}`,
		});
	drawTag(charted, '');
}

/* The number the row has in this size, as a tag over the chart's own; without one, around it. */
function drawTag(charted, said) {
	const number = String(charted[CHART_ROW.number]);
	const label = [...shown.querySelectorAll('text.bold')].find(
		(t) =>
			t.textContent === number &&
			!t.classList.contains('ink-extra') &&
			t.classList.contains('ink-below') === Boolean(charted[CHART_ROW.below])
	);
	if (!label) return;
	const size = Number(label.getAttribute('font-size'));
	const box = label.getBBox(),
		x = box.x + box.width / 2,
		y = box.y + box.height / 2;
	const half = Math.max(box.width / 2, size * 0.35 * said.length) + size * 0.3,
		high = size * 0.72;
	const round = isAround(row());
	const spots = spotsOf(charted),
		beak = spots[0].x < x ? -1 : 1;
	const tip = half + size * 0.55,
		from = beak < 0 ? -1 : 1;
	const points =
		round || !said
			? [
					[-half, -high],
					[half, -high],
					[half, high],
					[-half, high],
				]
			: [
					[-half * from, -high],
					[half * from, -high],
					[tip * from, 0],
					[half * from, high],
					[-half * from, high],
				];
	draw(over, 'path', {
		class: said ? 'tag' : 'tag below',
		'stroke-width': size * (said ? 0.14 : 0.1),
		d: `${lineThrough(points.map((p) => ({x: x + p[0], y: y + p[1]})))}Z`,
	});
	if (said)
		draw(over, 'text', {
			class: 'tag-said',
			x,
			y: y + size * 0.36,
			'font-size': size,
		}).textContent = said;
}

/* An almond, the shape of a loop, around a stitch from top to foot. */
function almondAround(spot) {
	const column = chart().column,
		air = column * (spot.height < column * 0.3 ? 0.5 : 0.3);
	const wide = Math.min(column * 0.66, (spot.height + 2 * air) * 0.38);
	const ux = Math.sin(spot.angle),
		uy = -Math.cos(spot.angle);
	const low = {x: spot.stand.x - ux * air, y: spot.stand.y - uy * air};
	const high = {x: spot.x + ux * air, y: spot.y + uy * air};
	const side = (sign) => ({
		x: spot.middle.x - uy * wide * sign,
		y: spot.middle.y + ux * wide * sign,
	});
	const reach = (end, sign) => ({
		x: end.x + (side(sign).x - spot.middle.x) * 1.15,
		y: end.y + (side(sign).y - spot.middle.y) * 1.15,
	});
	const half = (from, to, sign) => curveTo(reach(from, sign), reach(to, sign), to);
	return `M${pair(low)}${half(low, high, 1)}${half(high, low, -1)}Z`;
}

/* From top to base, out at the side of the stem so that both are seen. */
function drawThread(spot, foot, side) {
	const length = Math.hypot(foot.x - spot.x, foot.y - spot.y),
		short = Math.min(Math.max(length / (1.3 * chart().column), 0.55), 1);
	const pen = chart().column * 0.09 * short,
		out = Math.min(chart().column * 0.62, length * 0.6) * side;
	const dx = foot.x - spot.x,
		dy = foot.y - spot.y;
	const sideX = length ? (dy / length) * out : out,
		sideY = length ? (-dx / length) * out : 0;
	const high = {x: spot.x + sideX + dx * 0.15, y: spot.y + sideY + dy * 0.15};
	const low = {x: foot.x + sideX - dx * 0.25, y: foot.y + sideY - dy * 0.25};
	const d = `M${pair(spot)}${curveTo(high, low, foot)}`;
	draw(over, 'path', {class: 'thread-under', 'stroke-width': pen * 2.4, d});
	draw(over, 'path', {class: 'thread', 'stroke-width': pen, d});
	const half = pen * 3.6,
		rise = pen * 4.2;
	draw(over, 'path', {
		class: 'base',
		'stroke-width': pen * 0.6,
		d: `M${foot.x - half} ${foot.y}q${half} ${-rise} ${2 * half} 0q${-half} ${rise} ${-2 * half} 0z`,
	});
	draw(over, 'circle', {
		class: 'base',
		cx: spot.x,
		cy: spot.y,
		r: pen * 1.5,
		'stroke-width': pen * 0.5,
	});
}

function drawSaid(text, x, y, className) {
	const size = chart().column * 0.38,
		box = over.viewBox.baseVal;
	const anchor = x > box.x + box.width * 0.72 ? 'end' : 'start',
		away = chart().column * 0.62;
	draw(over, 'text', {
		class: `said ${className}`,
		x: anchor === 'end' ? x - away : x + away,
		y: y + size * 0.35,
		'font-size': size,
		'stroke-width': size * 0.3,
		'text-anchor': anchor,
	}).textContent = text;
}

function drawStitch(placed) {
	const stitch = chart().stitches[placed],
		spot = spotOf(stitch),
		pen = chart().column * 0.08;
	const kind = pattern.stitches[stitch[STITCH.kind]];
	draw(over, 'path', {class: 'here', 'stroke-width': pen, d: almondAround(spot)});
	if (stitch[STITCH.behind] >= 0) {
		const behind = spotOf(chart().stitches[stitch[STITCH.behind]]);
		draw(over, 'path', {
			class: 'behind',
			'stroke-width': pen,
			'stroke-dasharray': `${pen * 2} ${pen * 2}`,
			d: almondAround(behind),
		});
		drawSaid('left behind', behind.middle.x, behind.middle.y, 'left-behind');
	}
	if (stitch[STITCH.bases].length === 0) return;
	spot.feet.forEach((foot, i) => {
		drawThread(spot, foot, spot.feet.length > 1 && i === 0 ? -1 : 1);
		if (kind.post) {
			const r = chart().column * 0.4;
			const near = (x, y) => ({x: foot.x + x * r, y: foot.y + y * r});
			draw(over, 'path', {
				class: 'post',
				'stroke-width': pen * 1.2,
				d: `M${pair(near(-1, -0.4))}${curveTo(near(-1.1, 0.8), near(1.1, 0.8), near(1, -0.4))}`,
			});
			drawSaid('post', foot.x, foot.y + r * 0.2, '');
		}
	});
}

/* The symbols of a row, when each stands by itself, in working order. */
function symbolsOf(charted) {
	const group = shown.querySelector(`[data-row="${chart().rows.indexOf(charted)}"]`);
	const uses = group ? [...group.querySelectorAll('use')] : [];
	return uses.length === charted[CHART_ROW.count] ? uses : [];
}

function thicken(placed) {
	for (const use of shown.querySelectorAll('use[stroke-width]'))
		use.removeAttribute('stroke-width');
	const charted = chart().rows.find(
		(r) => placed >= r[CHART_ROW.first] && placed < r[CHART_ROW.first] + r[CHART_ROW.count]
	);
	const use = charted && symbolsOf(charted)[placed - charted[CHART_ROW.first]];
	if (use) use.setAttribute('stroke-width', Number(shown.getAttribute('stroke-width')) * 1.8);
}

function lightRows(charted, reached) {
	for (const group of shown.querySelectorAll('.row')) {
		const number = Number(group.dataset.row);
		group.classList.toggle('lit', chart().rows[number] === charted);
		group.classList.toggle('reached', reached.has(number));
	}
}

function showOver(placed) {
	under.replaceChildren();
	over.replaceChildren();
	const charted = shown && row() && chartRowOf(row());
	if (!shown) return;
	shown.classList.toggle('following', Boolean(charted));
	if (charted) {
		const reached = rowsReached(charted);
		lightRows(charted, reached);
		for (const number of reached) drawReached(chart().rows[number]);
		drawRow(charted);
		drawTag(charted, String(row()[ROW.number]));
	}
	thicken(placed);
	if (placed >= 0) drawStitch(placed);
	bringIntoView(placed, charted);
}

/* Where the chart is larger than the table: the stitch, or where the row begins. */
function bringIntoView(placed, charted) {
	const table = byId('table'),
		spot = placed >= 0 ? spotOf(chart().stitches[placed]) : charted && spotsOf(charted)[0];
	if (!spot) return;
	const box = shown.viewBox.baseVal;
	table.scrollTo(
		((spot.x - box.x) / box.width) * stage.clientWidth - table.clientWidth / 2,
		((spot.middle.y - box.y) / box.height) * stage.clientHeight - table.clientHeight / 2
	);
}

/* The stitch nearest to a place on the screen, or -1 when none is near. */
function stitchNear(clientX, clientY) {
	const matrix = over.getScreenCTM();
	if (!matrix || !chart()) return -1;
	const p = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
	let best = -1,
		least = chart().column * 1.1;
	chart().stitches.forEach((stitch, i) => {
		const spot = spotOf(stitch),
			end = spot.stand;
		const length = (end.x - spot.x) ** 2 + (end.y - spot.y) ** 2;
		const t = length
			? Math.min(
					Math.max(
						((p.x - spot.x) * (end.x - spot.x) + (p.y - spot.y) * (end.y - spot.y)) /
							length,
						0
					),
					1
				)
			: 0;
		const away = Math.hypot(
			p.x - spot.x - t * (end.x - spot.x),
			p.y - spot.y - t * (end.y - spot.y)
		);
		if (away < least) {
			least = away;
			best = i;
		}
	});
	return best;
}
