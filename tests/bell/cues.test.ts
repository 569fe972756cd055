import { cuesOf } from '$lib/bell/cues';
import { allSounds, type Sound } from '$lib/bell/sound';
import { defaultBellSettings } from '$lib/bell/settings';
import { isPausedAt, phaseAt, timelineOf } from '$lib/rounds/timeline';
import type { Plan } from '$lib/rounds/plan';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, anyAmendments, anyPlan, makePlan } from '../rounds/plans';

const { on } = defaultBellSettings;

function rung(plan: Plan, ...entries: string[]) {
	return cuesOf(timelineOf(plan, amendmentsOf(...entries)), { ...plan, on }).map(
		({ atMs, sound }) => `${sound} ${atMs / 1000}`
	);
}

describe('a bout as planned', () => {
	it('rings counts, bells, clapper and whistle, each ten-second warning with an instrument of its own', () => {
		// The whistle before a round starts: WAC 36-12-280(5). The clapper before it ends: OAC 3773-2-10.
		expect(rung(makePlan({ roundCount: 2, getReadyS: 15 }))).toEqual([
			'whistle 5',
			'count 12',
			'count 13',
			'count 14',
			'round start 15',
			'clapper 185',
			'round end 195',
			'whistle 245',
			'round start 255',
			'clapper 425',
			'round end 435'
		]);
	});

	it('of twelve rounds rings each of them in and out', () => {
		const cues = cuesOf(timelineOf(makePlan({ roundCount: 12, getReadyS: 15 })), { ...makePlan(), on });
		const times = (sound: Sound) => cues.filter((cue) => cue.sound === sound).length;
		expect(allSounds.map((sound) => [sound, times(sound)])).toEqual([
			['count', 3],
			['round start', 12],
			['round end', 12],
			['clapper', 12],
			['whistle', 12],
			['pulse', 0]
		]);
	});

	it('is silent through warm-up, closing minute and cool-down', () => {
		const plan = makePlan({ roundCount: 1, warmUpS: 300, coolDownS: 120 });
		expect(rung(plan)).toEqual(['round start 300', 'clapper 470', 'round end 480']);
	});
});

describe('rests by heart', () => {
	const plan = makePlan({ roundCount: 2, roundS: 60, restS: 90, restDownToPercent: 75 });
	const whistles = (...cues: string[]) => cues.filter((cue) => cue.startsWith('whistle'));

	it('whistle when the share is reached, and ring ten seconds later', () => {
		expect(rung(plan, 'rest over@95')).toEqual([
			'round start 0',
			'clapper 50',
			'round end 60',
			'whistle 95',
			'round start 105',
			'clapper 155',
			'round end 165'
		]);
		// Reached at once, the whistle blows at second 20: no rest is under thirty.
		expect(whistles(...rung(plan, 'rest over@61'))).toEqual(['whistle 80']);
	});

	it('whistle once, whatever warning the plan gives before a round and whenever the share is reached', () => {
		for (const startWarningS of [0, 5, 10, 20])
			for (let s = 60; s < 150; s++) {
				const cues = rung({ ...plan, startWarningS }, `rest over@${s}`);
				// A cue that was due before the press has been heard already.
				const heard = whistles(...rung({ ...plan, startWarningS })).filter((cue) => Number(cue.slice(8)) < s);
				expect([...heard, ...whistles(...cues).filter((cue) => !heard.includes(cue))]).toHaveLength(1);
			}
	});

	it('whistle again where the rest is made longer after the whistle, because the bell has moved', () => {
		expect(whistles(...rung(plan, 'rest over@95', 'extend rest@97'))).toEqual(['whistle 125']);
	});
});

describe('warnings', () => {
	it('have lengths of their own and can be left out', () => {
		const plan = makePlan({ roundCount: 2, roundS: 60, restS: 30 });
		expect(rung({ ...plan, endWarningS: 15, startWarningS: 5 })).toEqual([
			'round start 0',
			'clapper 45',
			'round end 60',
			'whistle 85',
			'round start 90',
			'clapper 135',
			'round end 150'
		]);
		expect(rung({ ...plan, endWarningS: 0, startWarningS: 0 })).toEqual([
			'round start 0',
			'round end 60',
			'round start 90',
			'round end 150'
		]);
	});

	it('as long as their phase are silent', () => {
		const plan = makePlan({ roundCount: 2, roundS: 10, restS: 10, getReadyS: 10 });
		expect(rung(plan).filter((cue) => /whistle|clapper/.test(cue))).toEqual([]);
		expect(rung({ ...plan, roundS: 11, restS: 11 }).filter((cue) => /whistle|clapper/.test(cue))).toEqual([
			'clapper 11',
			'whistle 22',
			'clapper 33'
		]);
	});
});

it('rings only what is switched on', () => {
	for (const sound of allSounds) {
		const timeline = timelineOf(makePlan({ getReadyS: 15 }));
		const without = cuesOf(timeline, { ...makePlan(), on: { ...on, [sound]: false } });
		expect(without).toEqual(cuesOf(timeline, { ...makePlan(), on }).filter((cue) => cue.sound !== sound));
	}
});

describe('changes on the way', () => {
	const plan = makePlan({ roundCount: 2 });

	it('a round cut short keeps the clapper it had and loses the one it never reached', () => {
		expect(rung(plan, 'next@175').slice(0, 3)).toEqual(['round start 0', 'clapper 170', 'round end 175']);
		expect(rung(plan, 'stop round@100').slice(0, 3)).toEqual([
			'round start 0',
			'round end 100',
			'whistle 150'
		]);
	});

	it('a pause after the clapper does not clap again', () => {
		expect(rung(plan, 'pause@175', 'resume@300').slice(0, 3)).toEqual([
			'round start 0',
			'clapper 170',
			'round end 305'
		]);
	});

	it('a pause before the clapper pushes it along with the bell', () => {
		expect(rung(plan, 'pause@60', 'resume@90').slice(0, 3)).toEqual([
			'round start 0',
			'clapper 200',
			'round end 210'
		]);
	});

	it('an open pause keeps everything after it silent', () => {
		expect(rung(plan, 'pause@175')).toEqual(['round start 0', 'clapper 170']);
		expect(rung(plan, 'pause@160')).toEqual(['round start 0']);
	});

	it('what is due on the moment of the pause rings then, and not again', () => {
		const before = ['round start 0', 'clapper 170', 'round end 180', 'whistle 230', 'round start 240'];
		expect(rung(plan, 'pause@240')).toEqual(before);
		expect(rung(plan, 'pause@240', 'resume@260').slice(0, 6)).toEqual([...before, 'clapper 430']);
		expect(rung(plan, 'pause@170')).toEqual(['round start 0', 'clapper 170']);
		expect(rung(plan, 'pause@170', 'resume@200').slice(0, 3)).toEqual([
			'round start 0',
			'clapper 170',
			'round end 210'
		]);
	});

	it('a round that is repeated is rung out, counted in and rung in', () => {
		expect(rung(plan, 'repeat round@50').slice(0, 6)).toEqual([
			'round start 0',
			'round end 50',
			'count 57',
			'count 58',
			'count 59',
			'round start 60'
		]);
	});

	it('a round added in the closing minute is announced', () => {
		expect(rung(plan, 'add round@475').slice(-4)).toEqual([
			'whistle 475',
			'round start 485',
			'clapper 655',
			'round end 665'
		]);
	});

	it('finish in a round rings the last bell there', () => {
		expect(rung(plan, 'finish@300').at(-1)).toBe('round end 300');
	});
});

describe('whatever is pressed', () => {
	it('cues come in order, outside pauses, and every bell stands at a change of phase', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const timeline = timelineOf(plan, amendments);
				const cues = cuesOf(timeline, { ...plan, on });
				expect(cues.map(({ atMs }) => atMs)).toEqual(cues.map(({ atMs }) => atMs).toSorted((a, b) => a - b));
				for (const { atMs, sound } of cues) {
					expect(Number.isFinite(atMs)).toBe(true);
					// At most on the moment a pause begins, or at the end of a round finished in one.
					const isHeld = sound !== 'round end' && isPausedAt(timeline, atMs - 0.5);
					expect(isHeld).toBe(false);
					const phase = phaseAt(timeline, atMs);
					if (sound === 'round start' || sound === 'clapper') expect(phase?.kind).toBe('work');
					if (sound === 'whistle') expect(['rest', 'get ready']).toContain(phase?.kind);
					if (sound === 'round end') expect(phaseAt(timeline, atMs - 0.5)?.kind).toBe('work');
				}
			})
		);
	});

	it('each round that began is rung in once and, when over, rung out once', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const timeline = timelineOf(plan, amendments);
				const cues = cuesOf(timeline, { ...plan, on });
				const work = timeline.filter(({ kind }) => kind === 'work');
				const ended = work.filter(({ endMs }) => endMs < Infinity);
				expect(cues.filter(({ sound }) => sound === 'round start').map(({ atMs }) => atMs)).toEqual(
					work.map(({ startMs }) => startMs)
				);
				expect(cues.filter(({ sound }) => sound === 'round end').map(({ atMs }) => atMs)).toEqual(
					ended.map(({ endMs }) => endMs)
				);
			})
		);
	});
});
