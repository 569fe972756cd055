import { expect, it } from 'vitest';
import type { RestView } from '$lib/session/live-rest';
import { restWords } from '$lib/session/rest-words';

const judged = (measure: object, advice?: string) => ({ measure, advice }) as unknown as RestView;

it('stands large where the rest is heading, and under it what that is called', () => {
	const advice =
		'Heading for 30 to 38; your usual is 38 to 46. Slower than gyms look for. Breathe low and long.';
	expect(restWords({ judged: judged({}, advice) })).toEqual({
		large: 'Heading for 30 to 38; your usual is 38 to 46',
		advice: 'Slower than gyms look for. Breathe low and long.'
	});
	expect(
		restWords({ judged: judged({}, 'Heading for 34 to 44: too close to call; look at the boxer first.') })
	).toEqual({
		large: 'Heading for 34 to 44',
		advice: 'Too close to call; look at the boxer first.'
	});
	expect(restWords({ judged: judged({}, 'Heading for 30 to 38.') })).toEqual({
		large: 'Heading for 30 to 38'
	});
});

it('is nothing before there is a heading', () => {
	expect(restWords({ judged: judged({}) })).toBeUndefined();
	expect(restWords({})).toBeUndefined();
});

it('is what the rest came to once second 60 is past', () => {
	const measure = { drop60: 37.6, verdict: 'under the band', nearEdge: true };
	expect(restWords({ judged: judged(measure, 'Look at the boxer first.'), verdict: 'slower' })).toEqual({
		large: 'Dropped 38: too close to call',
		advice: 'Look at the boxer first.'
	});
	expect(restWords({ judged: judged({ verdict: 'not judged' }), verdict: 'not judged' })?.large).toBe(
		'No 1-minute drop'
	);
});
