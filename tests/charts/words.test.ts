import { describe, expect, it } from 'vitest';
import { dropFigure, landingWords } from '$lib/charts/landing-words';
import { ropeWords } from '$lib/charts/rope-geometry';

describe('dropFigure', () => {
	it('shows whole beats, and a plus where the heart still climbs', () => {
		expect([46.4, 0, -0.4, -4].map(dropFigure)).toEqual(['46', '0', '0', '+4']);
	});
});

describe('landingWords', () => {
	const falling = [
		{ s: 30, bpm: 150 },
		{ s: 31, bpm: 148 },
		{ s: 32, bpm: null }
	];

	it('says how far the heart has come down by the last reading', () => {
		expect(landingWords(172, falling)).toBe('Bell rate 172, down 24 after 31 seconds');
	});

	it('adds where it is heading', () => {
		expect(landingWords(172, falling, { low: 40.2, high: 51.7 })).toBe(
			'Bell rate 172, down 24 after 31 seconds, heading for 40 to 52'
		);
	});

	it('says so when the heart still climbs after the bell', () => {
		expect(landingWords(172, [{ s: 5, bpm: 176 }])).toBe('Bell rate 172, up 4 after 5 seconds');
	});

	it('ends with the 1-minute drop and the verdict', () => {
		expect(landingWords(172, falling, undefined, { drop60: 47, verdict: 'in the band' })).toBe(
			'Bell rate 172, 1-minute drop 47, in the band'
		);
	});

	it('never gives a number for what is unknown', () => {
		expect(landingWords(undefined, falling)).toBe(
			'No bell rate, so the drop of this rest cannot be measured'
		);
		expect(landingWords(172, [])).toBe('Bell rate 172, no reading yet');
		expect(landingWords(172, falling, undefined, { verdict: 'not judged: signal lost' })).toBe(
			'Bell rate 172, 1-minute drop not measured, not judged: signal lost'
		);
	});
});

describe('ropeWords', () => {
	it('tells every round: its drop and verdict, or what is missing', () => {
		expect(
			ropeWords([
				{ round: 1, state: 'done', drop60: 46.3, judged: 'in' },
				{ round: 2, state: 'done', drop60: 31, judged: 'not judged' },
				{ round: 3, state: 'done' },
				{ round: 4, state: 'now' },
				{ round: 5, state: 'to come' }
			])
		).toBe(
			'Rounds so far: round 1 dropped 46, in the band; round 2 dropped 31, not judged; round 3 done, no drop; round 4 now; round 5 to come'
		);
	});
});
