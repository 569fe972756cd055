import { describe, expect, it } from 'vitest';
import { secondsOf } from '$lib/physiology/grid';
import { energyOf } from '$lib/physiology/energy';
import { RecordBuilder } from '$lib/record/record-builder';
import type { RoundSummary } from '$lib/record/summary';
import { knownBeforeOf } from '$lib/review/known-before';
import { sessionSentence } from '$lib/review/session-sentence';
import { sessionNetKcal } from '$lib/review/session-energy';
import { activityOf, countedDrop, inParts, likeSessions, type KeptSession } from '$lib/review/progress';
import { summaryOf } from '$lib/review/summary';
import type { Block, Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import { makeBlock, makePlan } from '../rounds/plans';
import { athlete, makeStart } from '../session/builders';

const whole = {
	...athlete,
	thresholdBpm: 170,
	measuredMaxBpm: 190,
	sex: 'male' as const,
	ageYears: 27,
	weightKg: 75
};

/** Pads 2 x 60 s near the threshold, then bag 2 x 60 s, with 60 s after each round and 90 s between. */
const plan: Plan = makePlan({
	roundCount: 2,
	roundS: 60,
	restS: 60,
	aim: { kind: 'near threshold' },
	blocks: [makeBlock({ roundCount: 2, roundS: 60, restS: 60, pauseS: 90 })]
});

/** In work 175 beats on the pads and 165 on the bag; in each rest the rate falls by `drops` at once. */
function recordOf(drops: readonly number[], of = plan, startedAt = '2026-03-02T18:00:00.000Z') {
	const builder = new RecordBuilder();
	const corners = [{ recordId: `r-${startedAt}`, athlete: whole, strapName: 'Red', practice: false }];
	builder.push({ kind: 'start', start: makeStart({ plan: of, corners, startedAt }) });
	const timeline = timelineOf(of);
	const endMs = timeline.at(-1)!.endMs;
	for (let ms = 500; ms < endMs; ms += 1000) {
		const phase = timeline.find((one) => one.startMs <= ms && ms < one.endMs)!;
		const atWork = (phase.block ?? 1) === 1 ? 175 : 165;
		const bpm = phase.kind === 'work' ? atWork : atWork - (drops[(phase.round ?? 1) - 1] ?? 0);
		builder.push({ kind: 'reading', corner: 0, ms, bpm, contact: 'not supported', rrMs: [] });
	}
	return builder.build(endMs)[0]!;
}
const drops = (rounds: readonly RoundSummary[]) => rounds.map(({ rest }) => Math.round(rest!.drop60!));

describe('the summary of several blocks', () => {
	const summary = summaryOf(recordOf([50, 40, 30, 20]));

	it('measures the first and the last rest of a block like any other', () => {
		expect(drops(summary.rounds)).toEqual([50, 40, 30, 20]);
		expect(summary.rounds.map(({ rest }) => rest!.endMs - rest!.startMs)).toEqual([
			60_000, 90_000, 60_000, 60_000
		]);
		expect(summary.rounds.map(({ round, block, activity }) => [round, block ?? 1, activity])).toEqual([
			[1, 1, 'pads'],
			[2, 1, 'pads'],
			[3, 2, 'bag'],
			[4, 2, 'bag']
		]);
	});

	it('counts time in aim in the block that has one: 30 of 60 s are judged, and 175 is above it', () => {
		const above = { inS: 0, belowS: 0, aboveS: 30, unknownS: 0 };
		expect(summary.rounds.map(({ aim }) => aim)).toEqual([above, above, undefined, undefined]);
	});

	it('takes one mean of one activity, the first where each has as many, and tells each by itself', () => {
		expect([summary.meanDrop60, summary.drop60Count]).toEqual([45, 2]);
		expect(sessionSentence({ practice: false }, { ...summary, overS: undefined })).toBe(
			'Pads: drops 50, 40. Bag: drops 30, 20.'
		);
	});

	it('claims no fade from pads to bag, and sees one within the bag', () => {
		const blocks: Block[] = [makeBlock({ roundCount: 3, roundS: 60, restS: 60, pauseS: 60 })];
		const three = { ...plan, roundCount: 1, blocks };
		const flat = summaryOf(recordOf([60, 40, 40, 40], three));
		expect([flat.fade?.restCount, flat.fade?.trend]).toEqual([3, 'no clear change']);
		const falling = summaryOf(recordOf([20, 60, 40, 20], three));
		expect(falling.fade?.trend).toBe('fading');
		expect(sessionSentence({ practice: false }, { ...falling, overS: undefined })).toBe(
			'Pads: drop 20. Bag: drops 60, 40, 20: fading.'
		);
	});

	it('says nothing of activities where there is one, in however many blocks', () => {
		const same = { ...plan, blocks: [makeBlock({ ...plan.blocks![0]!, activity: 'pads' })] };
		const { rounds, meanDrop60 } = summaryOf(recordOf([50, 40, 30, 20], same));
		expect(rounds.every(({ activity }) => activity === undefined)).toBe(true);
		expect(meanDrop60).toBe(35);
	});
});

describe('what several blocks cost', () => {
	const record = recordOf([50, 40, 30, 20]);
	const { costs } = summaryOf(record);
	// Pads until 270 s, the pause after them included; then the bag until 510 s.
	const grid = secondsOf(
		Array.from({ length: record.body.bpm.length }, (_, i) => ({
			ms: 500 + 1000 * i,
			bpm: record.body.bpm[i]!,
			contact: 'not supported' as const
		})),
		0,
		510
	);

	it('is the sum of each in the range of its own activity, and no second is lost', () => {
		const pads = energyOf(grid.slice(0, 270), whole, { activity: 'pads' }).value!;
		const bag = energyOf(grid.slice(270), whole, { activity: 'bag' }).value!;
		expect(record.head.endedMs).toBe(510_000);
		expect(costs.energy.value?.lowKJ).toBeCloseTo(pads.lowKJ + bag.lowKJ, 9);
		expect(costs.energy.value?.highKJ).toBeCloseTo(pads.highKJ + bag.highKJ, 9);
		expect(costs.energy.value?.countedS).toBe(pads.countedS + bag.countedS);
		expect(pads.highKJ / pads.lowKJ).toBeGreaterThan(bag.highKJ / bag.lowKJ);
	});

	it('is the same for food', () => {
		const { value } = sessionNetKcal(record, 'sitting', {});
		const { grossKJ, restingKJ } = costs.energy.value!;
		// 4.184 kJ a kcal (exact by definition), 1.4 times resting expenditure when sitting.
		expect(value?.value).toBeCloseTo((grossKJ - 1.4 * restingKJ) / 4.184, 6);
	});

	it('adds up the published work of each, and says which has none', () => {
		const pads = summaryOf(recordOf([], { ...plan, blocks: undefined })).costs.metWorkKJ.value!;
		const bag = summaryOf(recordOf([], { ...plan, activity: 'bag', blocks: undefined })).costs.metWorkKJ
			.value!;
		expect(costs.metWorkKJ.value).toBeCloseTo(pads + bag, 9);
		const circuit = { ...plan, blocks: [makeBlock({ activity: 'circuit' })] };
		expect(summaryOf(recordOf([], circuit)).costs.metWorkKJ.reason).toBe(
			'No published value stands for "circuit".'
		);
	});
});

describe('progress', () => {
	const kept = (all: readonly number[], day: string, of = plan): KeptSession => {
		const { head, body } = recordOf(all, of, `2026-03-${day}T18:00:00.000Z`);
		return { head, edit: {}, summary: summaryOf({ head, body }) };
	};
	const bagAlone = { ...plan, activity: 'bag' as const, blocks: undefined };
	const sessions = [
		kept([44, 42], '01', bagAlone),
		kept([50, 40, 30, 20], '03'),
		kept([36, 34], '05', bagAlone)
	];

	it('compares the drops of the bag with the bag, also where it followed the pads', () => {
		const like = likeSessions(sessions);
		expect(like.map((one) => [activityOf(one), Math.round(countedDrop(one)!.value)])).toEqual([
			['bag', 43],
			['bag', 25],
			['bag', 35]
		]);
		expect(
			inParts(sessions[1]!).map((one) => [activityOf(one), Math.round(countedDrop(one)!.value)])
		).toEqual([
			['pads', 45],
			['bag', 25]
		]);
		expect(inParts(sessions[0]!)).toEqual([sessions[0]]);
	});

	it('is known before a session by what each of its blocks is of', () => {
		const before = knownBeforeOf(sessions, whole.athleteId, plan);
		const of = (rests: readonly { drop60?: number }[] = []) =>
			rests.map(({ drop60 = NaN }) => Math.round(drop60));
		expect(of(before.pads?.rests)).toEqual([50, 40]);
		expect(of(before.bag?.rests)).toEqual([44, 42, 30, 20, 36, 34]);
		expect(before.skipping).toBeUndefined();
	});
});
