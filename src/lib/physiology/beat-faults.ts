import { quantileOf } from './quantile';

/** What is wrong with a beat, read from the shape of the intervals around it. */
export type BeatFault = 'ectopic' | 'missed' | 'extra' | 'long or short';

const quartilesWindow = 91;
const medianWindow = 11;
const deviationsAtThreshold = 5.2;
const ectopicSlope = 0.13;
const ectopicOffset = 0.17;
const limitFromMedian = 3;
const shorterCounts = 2;

// Own rules about the published thresholds; see `beatFaultsOf`.
const leastShareOfInterval = 0.03;
const greatestShareBetweenBeats = 0.5;
const greatestShareFromMedian = 0.3;

/**
 * Finds the faulty beats of a series of neighbouring intervals by Lipponen & Tarvainen, J Med Eng Technol
 * 2019;43:173-181 (abstract; parameters as in `signal_fixpeaks` of NeuroKit2): the differences between neighbours, and
 * the deviations from a running median of 11 beats (doubled below it), each in units of 5.2 of their own quartile
 * deviations in a window of 91 beats. A difference over 1 whose two neighbours point the other way by more than 0.13 of
 * it and 0.17 belongs to an ectopic beat. One that is answered by the next or the next but one, or an interval over
 * 3 from the median, is long or short; among these a beat was missed where half the interval fits
 * the median, or one is extra where the interval and the next together do. The thresholds follow the heart, so that
 * strong breathing is no fault.
 *
 * The quartiles are taken of the differences with their signs, since 5.2 of those deviations hold 99.95 % of a normal
 * distribution, which the factor is meant to (from memory). NeuroKit2 takes them of the sizes, and finds some 2 % of the
 * beats of pure noise faulty.
 *
 * Own rules: beyond its ends the series goes on with its median, so that the first and last beats are judged too; a
 * threshold is at least 3 % of the median (a strap's own steps are no fault), and at most 50 % of it between
 * neighbours and 30 % from the median, which is what decides in series of a few beats and where a strap is loose.
 *
 * Error: faults that fill more than a quarter of a window hide the lesser ones among them.
 *
 * @param rrMs neighbouring intervals, ms, each a number over 0
 * @returns the fault of each interval, undefined for a good one
 * @example beatFaultsOf([800, 810, 1610, 805, 798])[2] // 'missed'
 */
export function beatFaultsOf(rrMs: readonly number[]): (BeatFault | undefined)[] {
	const n = rrMs.length;
	const medians = rolling(rrMs, medianWindow, (sorted) => quantileOf(sorted, 0.5));
	const fromMedian = rrMs.map((rr, i) => (rr - medians[i]!) * (rr < medians[i]! ? shorterCounts : 1));
	const rrAt = (i: number) => rrMs[i] ?? medians[i < 0 ? 0 : n - 1]!;
	const changes = rrMs.map((rr, i) => rr - rrAt(i - 1));
	const changeLimits = limitsOf(changes, medians, greatestShareBetweenBeats);
	const medianLimits = limitsOf(fromMedian, medians, greatestShareFromMedian);

	const d = (i: number) => (rrAt(i) - rrAt(i - 1)) / (changeLimits[i] ?? changeLimits[i < 0 ? 0 : n - 1]!);
	const faults = new Array<BeatFault | undefined>(n).fill(undefined);
	const isEctopic = (i: number) => {
		const size = Math.abs(d(i));
		const sign = Math.sign(d(i));
		const answer = Math.max(sign * d(i - 1), sign * d(i + 1));
		return size > 1 && answer < -ectopicSlope * size - ectopicOffset;
	};
	const longOrShort = (i: number): BeatFault | undefined => {
		const isLong = d(i) > 1 && Math.min(d(i + 1), d(i + 2)) < -1;
		const isShort = d(i) < -1 && Math.max(d(i + 1), d(i + 2)) > 1;
		const isFar = Math.abs(fromMedian[i]!) > limitFromMedian * medianLimits[i]!;
		if (!isLong && !isShort && !isFar) return undefined;
		const fits = (ms: number) => Math.abs(ms - medians[i]!) < medianLimits[i]!;
		if (isShort && i + 1 < n && fits(rrMs[i]! + rrMs[i + 1]!)) return 'extra';
		return isLong && fits(rrMs[i]! / 2) ? 'missed' : 'long or short';
	};
	for (let i = 0; i < n; i++) {
		if (Math.abs(d(i)) <= 1) continue;
		if (isEctopic(i)) {
			faults[i] = 'ectopic';
			continue;
		}
		faults[i] = longOrShort(i);
		if (i + 1 < n && Math.abs(d(i + 1)) < Math.abs(d(i + 2))) faults[++i] = longOrShort(i);
	}
	return faults;
}

function limitsOf(values: readonly number[], medians: readonly number[], greatestShare: number): number[] {
	const spread = rolling(
		values,
		quartilesWindow,
		(sorted) => quantileOf(sorted, 0.75) - quantileOf(sorted, 0.25)
	);
	return spread.map((range, i) => {
		const median = medians[i]!;
		const limit = (deviationsAtThreshold * range) / 2;
		return Math.min(Math.max(limit, leastShareOfInterval * median), greatestShare * median);
	});
}

/** A figure of the values in a window about each, which come sorted; the window is shorter at the ends. */
function rolling(
	values: readonly number[],
	width: number,
	figureOf: (sorted: Float64Array) => number
): number[] {
	const half = (width - 1) / 2;
	// One buffer for all windows: the hours of a session have tens of thousands.
	const buffer = new Float64Array(width + 1);
	const whole = buffer.subarray(0, width);
	let count = 0;
	const put = (value: number) => {
		const at = placeOf(value, buffer, count);
		buffer.copyWithin(at + 1, at, count++);
		buffer[at] = value;
	};
	const takeOut = (value: number) => {
		const at = placeOf(value, buffer, count);
		buffer.copyWithin(at, at + 1, count--);
	};
	values.slice(0, half).forEach(put);
	return values.map((_, i) => {
		const entering = values[i + half];
		if (entering !== undefined) put(entering);
		const leaving = values[i - half - 1];
		if (leaving !== undefined) takeOut(leaving);
		return figureOf(count === width ? whole : buffer.subarray(0, count));
	});
}

/** The first place among the first `count` of a sorted list whose value is not under this one. */
function placeOf(value: number, sorted: Float64Array, count: number): number {
	let low = 0;
	let high = count;
	while (low < high) {
		const middle = (low + high) >>> 1;
		if (sorted[middle]! < value) low = middle + 1;
		else high = middle;
	}
	return low;
}
