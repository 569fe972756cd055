import { expect, it } from 'vitest';
import type { RestMeasure } from '$lib/physiology/recovery';
import { spokenDrop } from '$lib/session/spoken';

const measure = (overrides: Partial<RestMeasure>) =>
	({ verdict: 'under the band', ...overrides }) as RestMeasure;

it('says drop, rate and verdict once second 60 is past', () => {
	const rest = measure({ drop60: 38.4, rate60: 130.6 });
	expect(spokenDrop({ atS: 59, measure: rest })).toBeUndefined();
	expect(spokenDrop({ atS: 60, measure: rest })).toBe('Down 38. Rate 131. Under the band.');
});

it('says that a heart went up', () => {
	expect(spokenDrop({ atS: 60, measure: measure({ drop60: -3, verdict: 'not judged' }) })).toBe(
		'Up 3. Not judged.'
	);
});

it('has nothing to say of a rest without a drop', () => {
	expect(spokenDrop({ atS: 60, measure: measure({}) })).toBeUndefined();
});
