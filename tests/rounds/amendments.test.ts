import { accepts, plannedRunMs, timelineOf } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, makePlan, told } from './plans';

const told3 = (...entries: string[]) => told(timelineOf(makePlan(), amendmentsOf(...entries)));

describe('next', () => {
	it('ends a round early and starts its rest', () => {
		const timeline = timelineOf(makePlan({ roundCount: 2 }), amendmentsOf('next@100'));
		expect(told(timeline)).toEqual([
			'work 1 0-100 cutShort',
			'rest 1 100-160',
			'work 2 160-340',
			'closing 2 340-400'
		]);
		expect(timeline[0]?.plannedEndMs).toBe(180_000);
	});

	it('ends a rest early and starts the next round', () => {
		expect(told3('next@200').slice(0, 3)).toEqual([
			'work 1 0-180',
			'rest 1 180-200 cutShort',
			'work 2 200-380'
		]);
	});

	it('goes from the warm-up to getting ready, and from there to the first bell', () => {
		const plan = makePlan({ roundCount: 1, warmUpS: 300, getReadyS: 15 });
		expect(told(timelineOf(plan, amendmentsOf('next@60', 'next@65')))).toEqual([
			'warm-up 0-60 cutShort',
			'get ready 1 60-65 cutShort',
			'work 1 65-245',
			'closing 1 245-305'
		]);
	});

	it('leads from the closing minute to the cool-down, and from there out', () => {
		const plan = makePlan({ roundCount: 1, coolDownS: 120 });
		expect(told(timelineOf(plan, amendmentsOf('next@190', 'next@200')))).toEqual([
			'work 1 0-180',
			'closing 1 180-190 cutShort',
			'cool-down 190-200 cutShort'
		]);
	});

	it('pressed on the very bell belongs to the phase that begins, which then leaves no trace', () => {
		expect(told3('next@180').slice(0, 2)).toEqual(['work 1 0-180', 'work 2 180-360']);
	});
});

describe('stop round', () => {
	it('marks the round and starts the rest', () => {
		expect(told3('stop round@100').slice(0, 2)).toEqual(['work 1 0-100 stopped', 'rest 1 100-160']);
	});

	it('is possible in a round only', () => {
		const possible = (atS: number) => accepts(makePlan(), [], 'stop round', atS * 1000);
		expect([0, 179.999, 180, 239, 240, 700].map(possible)).toEqual([true, true, false, false, true, false]);
	});
});

describe('repeat round', () => {
	it('during a round gives ten seconds to get ready and the whole round again', () => {
		expect(told3('repeat round@250').slice(2, 6)).toEqual([
			'work 2 240-250 repeated',
			'get ready 2 again 2 250-260',
			'work 2 again 2 260-440',
			'rest 2 again 2 440-500'
		]);
		expect(told3('repeat round@250').at(-1)).toBe('closing 3 680-740');
	});

	it('during a rest lets the rest run out and then boxes the same round again', () => {
		expect(told3('repeat round@200')).toEqual([
			'work 1 0-180',
			'rest 1 180-240',
			'work 1 again 2 240-420',
			'rest 1 again 2 420-480',
			'work 2 480-660',
			'rest 2 660-720',
			'work 3 720-900',
			'closing 3 900-960'
		]);
	});

	it('is asked for once a rest', () => {
		const plan = makePlan();
		expect(accepts(plan, amendmentsOf('repeat round@200'), 'repeat round', 210_000)).toBe(false);
		expect(accepts(plan, amendmentsOf('repeat round@200'), 'repeat round', 430_000)).toBe(true);
	});

	it('is possible once a round was boxed, and not in the warm-up', () => {
		expect(accepts(makePlan({ warmUpS: 60 }), [], 'repeat round', 30_000)).toBe(false);
		expect(accepts(makePlan({ getReadyS: 10 }), [], 'repeat round', 5000)).toBe(false);
	});

	it('in the closing minute makes a rest of it', () => {
		expect(told3('repeat round@670').slice(4)).toEqual([
			'work 3 480-660',
			'rest 3 660-720',
			'work 3 again 2 720-900',
			'closing 3 again 2 900-960'
		]);
	});

	it('counts the tries when a round is boxed a third time', () => {
		expect(told3('repeat round@10', 'repeat round@50').slice(0, 5)).toEqual([
			'work 1 0-10 repeated',
			'get ready 1 again 2 10-20',
			'work 1 again 2 20-50 repeated',
			'get ready 1 again 3 50-60',
			'work 1 again 3 60-240'
		]);
	});
});

describe('add round', () => {
	it('before the last bell makes the plan one longer', () => {
		expect(told3('add round@10').slice(5)).toEqual(['rest 3 660-720', 'work 4 720-900', 'closing 4 900-960']);
	});

	it('in the closing minute turns it into the rest it would have been', () => {
		const plan = makePlan({ restS: 90, coolDownS: 60 });
		expect(told(timelineOf(plan, amendmentsOf('add round@730')))).toEqual([
			'work 1 0-180',
			'rest 1 180-270',
			'work 2 270-450',
			'rest 2 450-540',
			'work 3 540-720',
			'rest 3 720-810',
			'work 4 810-990',
			'closing 4 990-1050',
			'cool-down 1050-1110'
		]);
	});

	it('late in the closing minute leaves time for the whistle, or ten seconds', () => {
		expect(told3('add round@715').slice(5, 7)).toEqual(['rest 3 660-725', 'work 4 725-905']);
		const silent = timelineOf(makePlan({ startWarningS: 0 }), amendmentsOf('add round@715'));
		expect(told(silent)[5]).toBe('rest 3 660-725');
		const long = timelineOf(makePlan({ startWarningS: 15 }), amendmentsOf('add round@715'));
		expect(told(long)[5]).toBe('rest 3 660-730');
	});

	it('is too late in the cool-down and after finish', () => {
		const plan = makePlan({ coolDownS: 120 });
		expect(accepts(plan, [], 'add round', 719_000)).toBe(true);
		expect(accepts(plan, [], 'add round', 720_000)).toBe(false);
		expect(accepts(plan, amendmentsOf('finish@100'), 'add round', 110_000)).toBe(false);
	});
});

describe('extend rest', () => {
	it('adds thirty seconds, as often as asked', () => {
		expect(told3('extend rest@190', 'extend rest@230').slice(1, 3)).toEqual([
			'rest 1 180-300',
			'work 2 300-480'
		]);
	});

	it('plans the longer rest, and settles only one that would have waited for hearts', () => {
		const restOf = (overrides: object) =>
			timelineOf(makePlan(overrides), amendmentsOf('extend rest@190'))[1]!;
		expect(plannedRunMs(restOf({}))).toBe(90_000);
		expect(restOf({}).settled).toBeUndefined();
		expect(restOf({ restDownToPercent: 75 }).settled).toBe('by hand');
	});

	it('is not possible in the closing minute, which is measured as it is', () => {
		expect(accepts(makePlan(), [], 'extend rest', 670_000)).toBe(false);
	});
});

describe('finish', () => {
	it('in a round rings the last bell, measures a minute and leaves the cool-down out', () => {
		const plan = makePlan({ coolDownS: 120 });
		expect(told(timelineOf(plan, amendmentsOf('finish@300')))).toEqual([
			'work 1 0-180',
			'rest 1 180-240',
			'work 2 240-300 cutShort',
			'closing 2 300-360'
		]);
	});

	it('in a rest makes it the closing minute', () => {
		expect(told3('finish@200')).toEqual(['work 1 0-180', 'closing 1 180-240']);
	});

	it('in a long rest, later than a minute after the bell, ends the session there', () => {
		const plan = makePlan({ restS: 120 });
		expect(told(timelineOf(plan, amendmentsOf('finish@270')))).toEqual(['work 1 0-180', 'closing 1 180-270']);
	});

	it('before the first bell ends the session', () => {
		const plan = makePlan({ warmUpS: 300, getReadyS: 15 });
		expect(told(timelineOf(plan, amendmentsOf('finish@60')))).toEqual(['warm-up 0-60 cutShort']);
		expect(told(timelineOf(plan, amendmentsOf('finish@310')))).toEqual([
			'warm-up 0-300',
			'get ready 1 300-310 cutShort'
		]);
	});

	it('while getting ready to repeat a round measures the minute after the bell that was', () => {
		expect(told3('repeat round@100', 'finish@105')).toEqual(['work 1 0-100 repeated', 'closing 1 100-160']);
	});

	it('while getting ready for a third try leaves the minute after the second', () => {
		const tries = ['repeat round@30', 'repeat round@60'];
		expect(told3(...tries).slice(2, 4)).toEqual([
			'work 1 again 2 40-60 repeated',
			'get ready 1 again 3 60-70'
		]);
		expect(told3(...tries, 'finish@65').slice(3)).toEqual(['closing 1 again 2 60-120']);
	});

	it('a second time ends the session at once', () => {
		expect(told3('finish@100', 'finish@130')).toEqual([
			'work 1 0-100 cutShort',
			'closing 1 100-130 cutShort'
		]);
	});

	it('in the closing minute ends the session without the cool-down', () => {
		const plan = makePlan({ roundCount: 1, coolDownS: 120 });
		expect(told(timelineOf(plan, amendmentsOf('finish@200')))).toEqual([
			'work 1 0-180',
			'closing 1 180-200 cutShort'
		]);
	});

	it('in a pause closes the pause first', () => {
		const timeline = timelineOf(makePlan(), amendmentsOf('pause@100', 'finish@130'));
		expect(told(timeline)).toEqual(['work 1 0-130 cutShort', 'closing 1 130-190']);
		expect(timeline[0]?.pauses).toEqual([{ fromMs: 100_000, toMs: 130_000 }]);
		expect(timeline[0]?.plannedEndMs).toBe(210_000);
	});

	it('in a paused rest gives the closing minute its whole length on the gym clock', () => {
		expect(told3('pause@190', 'finish@220')).toEqual(['work 1 0-180', 'closing 1 180-270']);
	});
});

describe('what is impossible', () => {
	it.each([
		['before Start', 'next', -1],
		['at no time at all', 'next', NaN],
		['after the end', 'next', 720_000],
		['a resume without a pause', 'resume', 10_000]
	] as const)('%s is neither accepted nor heeded', (_, kind, atMs) => {
		expect(accepts(makePlan(), [], kind, atMs)).toBe(false);
		expect(timelineOf(makePlan(), [{ kind, atMs }])).toEqual(timelineOf(makePlan()));
	});

	it('cannot come before what was already done, and does not keep later ones out', () => {
		const plan = makePlan();
		expect(accepts(plan, amendmentsOf('next@100'), 'next', 99_000)).toBe(false);
		expect(timelineOf(plan, amendmentsOf('next@9999', 'next@100'))).toEqual(
			timelineOf(plan, amendmentsOf('next@100'))
		);
	});
});
