import { expect, it } from 'vitest';
import { againstUsual, usualSentence } from '$lib/review/usual-words';

it('a rest is set against the usual, in whole beats', () => {
	const usual = { low: 38.6, high: 44.4 };
	expect([38.4, 38.6, 44.4, 44.6].map((drop) => againstUsual(drop, usual))).toEqual([
		'less than usual',
		'as usual',
		'as usual',
		'more than usual'
	]);
});

it('the usual is said with what it is of', () => {
	expect(usualSentence({ middle: 41, low: 38.6, high: 44.4, sessionCount: 5, restCount: 7 })).toBe(
		'Usual for this athlete: 41, mostly 39 to 44 (four of five of 7 judged rests in 5 like sessions).'
	);
});
