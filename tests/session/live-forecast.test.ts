import { describe, expect, it } from 'vitest';
import { timelineOf } from '$lib/rounds/timeline';
import { LiveCorner } from '$lib/session/live-corner';
import { athlete, shortPlan } from './builders';

// Work to 70 s, rest to 130 s, work to 190 s, then the closing minute.
const timeline = timelineOf(shortPlan);
const bellsS = timeline
	.filter(({ kind }) => kind === 'rest' || kind === 'closing')
	.map(({ startMs }) => startMs / 1000);
const fallenS = 25;

/** 178 in work; from 12 s after a bell the heart falls by 75, with a tau of 20 s. */
function bpmAt(s: number): number {
	const sinceBell = s - Math.max(...bellsS.filter((bellS) => bellS <= s), -Infinity);
	const isRest = sinceBell < 60;
	return isRest && sinceBell > 12 ? Math.round(178 - 75 * (1 - Math.exp(-(sinceBell - 12) / 20))) : 178;
}

/** What the second rest is heading for after 25 s. */
function secondForecast(beforeItsBell: (corner: LiveCorner, atMs: number) => void = () => {}) {
	const corner = new LiveCorner({ athlete, worn: () => [{ fromMs: -Infinity, toMs: Infinity }] });
	const endS = bellsS[1]! + fallenS;
	for (let s = 0; s <= endS; s++) {
		if (s === bellsS[1]! - 20) beforeItsBell(corner, s * 1000);
		corner.advance(s * 1000, timeline);
		corner.push({ ms: s * 1000, bpm: bpmAt(s), contact: 'contact', rrMs: [] });
	}
	return corner.restView!.forecast;
}

describe('the forecast of a second rest', () => {
	const drop60 = 178 - bpmAt(bellsS[0]! + 57);

	it('holds the drop that the rest will come to', () => {
		const forecast = secondForecast()!;
		expect(forecast.low).toBeLessThan(drop60);
		expect(forecast.high).toBeGreaterThan(drop60);
	});

	it('knows nothing of rests before another strap was put on', () => {
		const learned = secondForecast()!;
		const stranger = secondForecast((corner, atMs) => corner.changeStrap(atMs, timeline, false));
		const width = stranger ? stranger.high - stranger.low : Infinity;
		expect(learned.high - learned.low).toBeLessThan(width);
	});
});
