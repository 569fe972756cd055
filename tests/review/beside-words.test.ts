import { expect, it } from 'vitest';
import { besideWords } from '$lib/review/beside-words';

const stamp = { at: '2026-03-03T12:00:00.000Z', by: 'm1' };

it('says what another laptop entered, of what, and when', () => {
	expect(besideWords({ register: 'notes', value: 'left hand', ...stamp })).toMatch(
		/^Notes: left hand, entered on another laptop on Tue 3 Mar.*\.$/
	);
	expect(
		besideWords({ register: 'weights/2026-03-01', value: { date: '2026-03-01', kg: 61 }, ...stamp })
	).toMatch(/^Weight on 2026-03-01: .*61, entered/);
	expect(besideWords({ register: 'slowingMedicine', at: '', by: '' })).toBe(
		'Medicine that slows the heart: taken out, entered on another laptop.'
	);
});
