import { describe, expect, it } from 'vitest';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { RestView } from '$lib/session/live-rest';
import { spokenDrop, spokenMs, SpokenRests, type Quiet } from '$lib/session/spoken';

const measure = (overrides: Partial<RestMeasure>) =>
	({ verdict: 'under the band', ...overrides }) as RestMeasure;

describe('what is said of a drop', () => {
	it('is drop, rate and verdict once second 60 is past', () => {
		const rest = measure({ drop60: 38.4, rate60: 130.6 });
		expect(spokenDrop({ atS: 59, measure: rest })).toBeUndefined();
		expect(spokenDrop({ atS: 60, measure: rest })).toBe('Down 38. Rate 131. Slower than gyms look for.');
	});

	it('is that a heart went up', () => {
		expect(spokenDrop({ atS: 60, measure: measure({ drop60: -3, verdict: 'not judged' }) })).toBe(
			'Up 3. Not judged.'
		);
	});

	it('is of a very small fall what to do before anything else', () => {
		const words = spokenDrop({
			atS: 60,
			measure: measure({ drop60: 8, rate60: 170 }),
			isVerySmallFall: true
		});
		expect(words).toBe('Down 8. Rate 170. A very small fall. Check the strap. Unwell: stop, see a doctor.');
	});

	it('is nothing of a rest without a drop', () => {
		expect(spokenDrop({ atS: 60, measure: measure({}) })).toBeUndefined();
	});
});

const quiet: Quiet = { sinceMs: Infinity, untilMs: Infinity };

/** A boxer in a rest whose bell rang at `bellMs`. */
function boxer(corner: number, name: string, rest: Partial<RestView>, bellMs = 100_000) {
	return { corner, name, rest: { round: 1, bellMs, points: [], measure: measure({}), atS: 0, ...rest } };
}
const heading = (low: number, high: number, atS = 45) => ({ atS, forecast: { drop60: 0, low, high } });
const landed = (drop60: number) => ({ atS: 60, measure: measure({ drop60, rate60: 130 }) });

describe('the voice at the ropes', () => {
	it('says at second 45 where the drop is heading, once, and at the end the drop', () => {
		const voice = new SpokenRests();
		const at = (rest: Partial<RestView>, ms: number) => voice.take([boxer(0, 'Odalys', rest)], ms, quiet);
		expect(at(heading(30.2, 39.6, 44), 144_000)).toBeUndefined();
		expect(at(heading(30.2, 39.6), 145_000)).toBe('Heading for 30 to 40.');
		expect(at(heading(31, 38, 50), 150_000)).toBeUndefined();
		expect(at(landed(36), 160_000)).toBe('Down 36. Rate 130. Slower than gyms look for.');
		expect(at(landed(36), 170_000)).toBeUndefined();
	});

	it('says it of every rest anew, and in the first half minute of the next round', () => {
		const voice = new SpokenRests();
		const { rest: lastRest, ...one } = boxer(0, 'Odalys', landed(44));
		expect(voice.take([{ ...one, lastRest }], 162_000, quiet)).toMatch(/^Down 44\./);
		expect(voice.take([boxer(0, 'Odalys', heading(40, 50), 300_000)], 345_000, quiet)).toMatch(/^Heading/);
	});

	it('names several boxers first, the one nearest an edge of the band before the others', () => {
		const voice = new SpokenRests();
		const words = voice.take(
			[
				boxer(0, 'Odalys', heading(20, 28)),
				boxer(1, 'Tomas', heading(46, 54)),
				boxer(2, 'Nerea', heading(36, 44)),
				boxer(3, 'Adem', heading(62, 70))
			],
			145_000,
			quiet
		);
		// By hand: 40 lies 12 over 28; 46 is 6 over it; 36 to 44 holds it; 62 is 2 over 60.
		expect(words).toBe(
			'Nerea: heading for 36 to 44. Adem: heading for 62 to 70. Tomas: heading for 46 to 54. Odalys: heading for 20 to 28.'
		);
		expect(voice.take([boxer(0, 'Odalys', landed(25)), boxer(1, 'Tomas', landed(41))], 162_000, quiet)).toBe(
			'Tomas: down 41. Odalys: down 25.'
		);
	});

	it('begins only what ends before the next bell or whistle, the nearest to an edge first', () => {
		const corners = [boxer(0, 'Odalys', heading(20, 28)), boxer(1, 'Nerea', heading(36, 44))];
		const untilMs = spokenMs('Nerea: heading for 36 to 44.');
		const take = (untilMs: number) => new SpokenRests().take(corners, 145_000, { ...quiet, untilMs });
		expect(take(untilMs)).toBe('Nerea: heading for 36 to 44.');
		expect(take(untilMs - 1)).toBeUndefined();
	});

	it('waits until the strokes have rung out, and until it has said what it is saying', () => {
		const voice = new SpokenRests();
		const one = boxer(0, 'Odalys', landed(36));
		const other = boxer(1, 'Tomas', landed(44));
		expect(voice.take([one], 160_000, { ...quiet, sinceMs: 0 })).toBeUndefined();
		const words = voice.take([one], 162_000, { ...quiet, sinceMs: 2000 })!;
		expect(words).toMatch(/^Down 36/);
		const endMs = 162_000 + spokenMs(words);
		expect(voice.take([one, other], endMs - 1, quiet)).toBeUndefined();
		expect(voice.take([one, other], endMs, quiet)).toBe('Tomas: down 44.');
	});

	it('lets a heading go that comes too late to act on, and has none without a forecast', () => {
		const take = (rest: Partial<RestView>) =>
			new SpokenRests().take([boxer(0, 'Odalys', rest)], 155_000, quiet);
		expect(take(heading(30, 40, 55))).toBeUndefined();
		expect(take({ atS: 50 })).toBeUndefined();
	});

	it('warns of a very small fall among several too', () => {
		const small = { ...landed(8), isVerySmallFall: true as const };
		const words = new SpokenRests().take(
			[boxer(0, 'Odalys', small), boxer(1, 'Tomas', landed(50))],
			162_000,
			quiet
		);
		expect(words).toContain('Odalys: down 8. A very small fall. Check the strap.');
	});
});
