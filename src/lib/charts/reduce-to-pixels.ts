import { firstAfter, firstAtOrAfter, type TracePoint } from './trace';

/**
 * Thins a trace to what the screen can show: of each pixel column the lowest and the highest reading, in
 * order of time, so every peak survives and no column holds more than two drawn points.
 *
 * Gaps are never bridged: wherever nothing was read between two kept readings, one null stands between
 * them (it draws nothing, so it does not count towards the two). The nearest point on either side of the
 * stretch is kept too, so that the line runs to the edges.
 *
 * @param points in order of time
 * @param fromS left edge of the picture, elapsed seconds
 * @param toS right edge, after `fromS`
 * @param widthPx width of the picture in pixels, above 0
 */
export function reduceToPixels(
	points: readonly TracePoint[],
	fromS: number,
	toS: number,
	widthPx: number
): TracePoint[] {
	const first = firstAtOrAfter(points, fromS);
	const end = firstAfter(points, toS);
	const columns = Math.max(1, Math.floor(widthPx));
	const columnOf = (tS: number) =>
		Math.min(columns - 1, Math.floor(((tS - fromS) / (toS - fromS)) * columns));

	const kept: TracePoint[] = [];
	let gap: TracePoint | undefined;
	const keep = (point: TracePoint) => {
		if (gap) kept.push(gap);
		gap = undefined;
		kept.push(point);
	};

	if (first > 0) kept.push(points[first - 1]!);
	for (let i = first; i < end;) {
		const column = columnOf(points[i]!.tS);
		let low: TracePoint | undefined;
		let high: TracePoint | undefined;
		const start = i;
		for (; i < end && columnOf(points[i]!.tS) === column; i++) {
			const point = points[i]!;
			if (point.bpm === null) continue;
			if (!low || point.bpm < low.bpm!) low = point;
			if (!high || point.bpm > high.bpm!) high = point;
		}
		for (let j = start; j < i; j++) {
			const point = points[j]!;
			if (point.bpm === null) gap ??= point;
			else if (point === low || point === high) keep(point);
		}
	}
	if (gap) kept.push(gap);
	if (end < points.length) kept.push(points[end]!);
	return kept;
}
