import { expect, it } from 'vitest';
import type { RestMeasure } from '$lib/physiology/recovery';
import { spokenDrop } from '$lib/session/spoken';

const measure = (overrides: Partial<RestMeasure>) =>
	({ verdict: 'under the band', ...overrides }) as RestMeasure;

it('says drop, rate and verdict once second 60 is past', () => {
	const rest = measure({ drop60: 38.4, rate60: 130.6 });
	expect(spokenDrop({ atS: 59, measure: rest })).toBeUndefined();
	expect(spokenDrop({ atS: 60, measure: rest })).toBe('Down 38. Rate 131. Slower than gyms look for.');
});

it('says that a heart went up', () => {
	expect(spokenDrop({ atS: 60, measure: measure({ drop60: -3, verdict: 'not judged' }) })).toBe(
		'Up 3. Not judged.'
	);
});

it('says of a very small fall what to do before anything else', () => {
	const words = spokenDrop({
		atS: 60,
		measure: measure({ drop60: 8, rate60: 170 }),
		isVerySmallFall: true
	});
	expect(words).toBe('Down 8. Rate 170. A very small fall. Check the strap. Unwell: stop, see a doctor.');
});

it('has nothing to say of a rest without a drop', () => {
	expect(spokenDrop({ atS: 60, measure: measure({}) })).toBeUndefined();
});
