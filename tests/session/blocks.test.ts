import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import { unpackReadings, type Reading } from '$lib/record/columns';
import { checkPlan } from '$lib/rounds/check-plan';
import type { Aim } from '$lib/rounds/aim';
import type { Block, Plan } from '$lib/rounds/plan';
import { summaryOf } from '$lib/review/summary';
import { LiveSession } from '$lib/session/live-session.svelte';
import { Recorder } from '$lib/session/recorder';
import { viewOf } from '$lib/session/live-view';
import { manualClock } from '$lib/time/manual-clock';
import { makeBlock } from '../rounds/plans';
import { athlete, makeSink, makeStart, makeStrap, shortPlan } from './builders';
import { silentRinger } from './silent-ringer';

const boxer = { ...athlete, thresholdBpm: 165, measuredMaxBpm: 190 };

describe('a session of 30 rounds in 8 blocks, at 60 times the pace of life', () => {
	const aims: (Aim | undefined)[] = [
		{ kind: 'easy' },
		{ kind: 'working' },
		{ kind: 'near threshold' },
		{ kind: 'fight pace' },
		{ kind: 'share of maximum', fromPercent: 80, toPercent: 90 },
		undefined,
		{ kind: 'effort', effort: 6 },
		{ kind: 'near threshold' }
	];
	const rounds = [4, 3, 5, 2, 6, 1, 4, 5];
	const lengths = [60, 90, 45, 120, 31, 75, 50, 61];
	const rests = [60, 61, 75, 60, 30, 45, 90, 62];
	const pauses = [0, 120, 60, 95, 61, 70, 30, 45];
	const activities = [
		'skipping',
		'shadow boxing',
		'bag',
		'pads',
		'bag',
		'sparring',
		'bag',
		'skipping'
	] as const;
	const blocks = rounds.map((roundCount, i): Block => ({
		activity: activities[i]!,
		roundCount,
		roundS: lengths[i]!,
		restS: rests[i]!,
		pauseS: pauses[i]!,
		...(aims[i] && { aim: aims[i] })
	}));
	const [{ pauseS: _, ...first }, ...others] = blocks as [Block, ...Block[]];
	const plan: Plan = { ...shortPlan, warmUpS: 20, getReadyS: 10, ...first, blocks: others };

	beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2026-03-02T18:00:00.000Z') }));
	afterEach(() => void vi.useRealTimers());

	async function play() {
		const sink = makeSink();
		const outside = { ringer: silentRinger, openSink: () => sink.sink };
		const live = new LiveSession({ fetchOutside: () => Promise.resolve(outside), newId: () => 'id' });
		await live.load();
		await live.straps.practise(60);
		live.begin(plan, [boxer], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(90_000);
		return { live, record: sink.kept![0]! };
	}

	/** The plan, the grid, the drops and the time in aim, from nothing but their definitions. */
	function byHand(readings: readonly Reading[]) {
		const entry = (endMs: number, fromMs = -Infinity) => {
			const last = readings.filter(({ ms }) => ms < endMs && ms >= fromMs).at(-1);
			return last && endMs - last.ms <= 2000 ? last.bpm : undefined;
		};
		const mean = (bellMs: number, fromS: number, toS: number) => {
			let [sum, count] = [0, 0];
			for (let s = fromS; s <= toS; s++) {
				const bpm = entry(bellMs + (s + 1) * 1000);
				if (bpm !== undefined) [sum, count] = [sum + bpm, count + 1];
			}
			return count >= 3 ? sum / count : undefined;
		};
		const isIn: ((bpm: number) => boolean | undefined)[] = [
			(bpm) => bpm < 0.8 * 165,
			(bpm) => bpm >= 0.8 * 165 && bpm < 0.9 * 165,
			(bpm) => bpm >= 0.9 * 165 && bpm <= 165,
			(bpm) => bpm > 165,
			(bpm) => bpm >= 0.8 * 190 && bpm <= 0.9 * 190,
			() => undefined,
			() => undefined,
			(bpm) => bpm >= 0.9 * 165 && bpm <= 165
		];
		const rows: object[] = [];
		let ms = 30_000;
		rounds.forEach((count, i) => {
			if (i > 0) ms += pauses[i]! * 1000;
			for (let one = 0; one < count; one++) {
				if (one > 0) ms += rests[i]! * 1000;
				let inS = 0;
				for (let s = 30; s < lengths[i]!; s++) {
					const bpm = entry(ms + (s + 1) * 1000);
					if (bpm !== undefined && isIn[i]!(bpm)) inS++;
				}
				const bellMs = ms + lengths[i]! * 1000;
				const isLast = one === count - 1;
				const restS = isLast ? (i === 7 ? 60 : pauses[i + 1]!) : rests[i]!;
				const [bell, after] = [mean(bellMs, -5, -1), mean(bellMs, 55, 59)];
				rows.push({
					round: rows.length + 1,
					activity: activities[i],
					startMs: ms,
					endMs: bellMs,
					inS: aims[i] && aims[i].kind !== 'effort' ? inS : undefined,
					restS,
					drop60:
						restS >= 60 && bell !== undefined && after !== undefined ? (bell - after).toFixed(6) : undefined
				});
				ms = bellMs;
			}
		});
		return { rows, endMs: ms + 60_000 };
	}

	it('is live and kept what a straightforward computation of plan and readings makes of it', async () => {
		expect(checkPlan(plan)).toEqual([]);
		const { live, record } = await play();
		const summary = summaryOf(record);
		const { rows, endMs } = byHand(unpackReadings(record.body));
		expect(rows).toHaveLength(30);
		expect(record.head.endedMs).toBe(endMs);
		expect(
			summary.rounds.map(({ round, activity, startMs, endMs: bellMs, aim, rest }) => ({
				round,
				activity,
				startMs,
				endMs: bellMs,
				inS: aim?.inS,
				restS: (rest!.endMs - rest!.startMs) / 1000,
				drop60: rest!.drop60?.toFixed(6)
			}))
		).toEqual(rows);
		const shown = live.running!.view!.corners[0]!.rounds;
		expect(shown.map(({ aim, over, rest, block }) => [aim, over, rest!.measure.drop60, block])).toEqual(
			summary.rounds.map(({ aim, over, rest, block }) => [aim, over, rest!.drop60, block])
		);
		// Something was counted in each of the ways.
		const counted = summary.rounds.flatMap(({ aim }) => aim ?? []);
		expect(
			counted.some(({ inS }) => inS > 0) && counted.some(({ belowS, aboveS }) => belowS + aboveS > 0)
		).toBe(true);
	});
});

describe('across blocks', () => {
	function setUp(plan: Plan) {
		const clock = manualClock();
		const sink = makeSink();
		const corners = [{ recordId: 'record-1', athlete: boxer, strapName: 'Red strap', practice: false }];
		const parts = {
			start: makeStart({ plan, corners }),
			clock,
			originMs: 0,
			writeClock: clock,
			sink: sink.sink
		};
		const recorder = new Recorder(parts);
		const { strap, send } = makeStrap();
		recorder.straps.attach(0, strap);
		/** The moments, in seconds, at which the pulse was due. */
		const pulses: number[] = [];
		const go = (toS: number, bpm: number) => {
			while (clock.nowMs() < toS * 1000) {
				clock.advanceTo(clock.nowMs() + 1000);
				send(clock.nowMs() - 500, bpm);
				recorder.advance();
				if (recorder.pulseMs > (pulses.at(-1) ?? -1) * 1000) pulses.push(recorder.pulseMs / 1000);
			}
		};
		return { recorder, go, pulses, sink, parts, view: () => viewOf(recorder, recorder.advance()) };
	}
	const one = { ...shortPlan, getReadyS: 0, roundCount: 1, roundS: 60, restS: 60 };

	it('the pulse calls back from over the threshold, and is silent where that is what is aimed at', () => {
		const block = makeBlock({ roundCount: 1, roundS: 60, pauseS: 60 });
		const { go, pulses, view } = setUp({
			...one,
			aim: { kind: 'near threshold' },
			blocks: [
				{ ...block, aim: { kind: 'fight pace' } },
				{ ...block, aim: { kind: 'share of maximum', fromPercent: 80, toPercent: 90 } },
				{ ...block, aim: { kind: 'easy' } }
			]
		});
		go(200, 170);
		expect(view().corners[0]!.isOver).toBe(false);
		go(430, 170);
		// Rounds from 0, 120, 240 and 360 s: 90 % of 190 is over the threshold of 165, so only first and last call back.
		expect(pulses.every((s) => s < 60 || s > 360)).toBe(true);
		expect(pulses.filter((s) => s < 60).length).toBeGreaterThan(1);
		expect(pulses.filter((s) => s > 360).length).toBeGreaterThan(1);
	});

	it('nothing rings for being below an aim', () => {
		const { go, pulses, view } = setUp({ ...one, aim: { kind: 'fight pace' } });
		go(55, 120);
		expect(pulses).toEqual([]);
		expect(view().corners[0]!.aim).toMatchObject({
			aim: { kind: 'fight pace' },
			range: { lowBpm: 165, isLowOut: true },
			time: { inS: 0, belowS: 25 }
		});
	});

	it('shows the aim of the block that a pause leads to, whose time is still to come', () => {
		const { go, view } = setUp({
			...one,
			aim: { kind: 'easy' },
			blocks: [makeBlock({ roundCount: 1, aim: { kind: 'working' } })]
		});
		go(70, 120);
		expect(view().corners[0]!.aim).toEqual({
			aim: { kind: 'working' },
			range: { lowBpm: 132, highBpm: 148.5, isHighOut: true }
		});
	});

	it('a block that is added while it runs goes through the journal, and the session goes on with it', async () => {
		const { go, recorder, sink, parts, view } = setUp(one);
		go(20, 150);
		const block = makeBlock({
			activity: 'skipping',
			roundCount: 2,
			roundS: 30,
			restS: 20,
			aim: { kind: 'easy' }
		});
		expect(recorder.amend('add block', undefined, block)).toBe(true);
		expect(recorder.amend('repeat block')).toBe(true);
		go(30, 150);
		expect(view().roundCount).toBe(4);
		expect(view().blocks.map(({ activity, roundCount }) => [activity, roundCount])).toEqual([
			['pads', 1],
			['pads', 1],
			['skipping', 2]
		]);
		await new Promise((resolve) => setImmediate(resolve));
		const again = new Recorder(parts, sink.entries.slice(1));
		expect(again.session.timeline).toEqual(recorder.session.timeline);
		expect(again.session.blocks).toEqual(recorder.session.blocks);
		expect(again.recordsSoFar()[0]!.head).toMatchObject({
			version: 2,
			amendments: [{ kind: 'add block', block }, { kind: 'repeat block' }]
		});
	});

	it('a rest is forecast by the rests of its own work alone', () => {
		const plan = {
			...one,
			roundCount: 2,
			blocks: [makeBlock({ roundCount: 1, roundS: 60, restS: 60, pauseS: 60 })]
		};
		const forecastAfter = (padsRestBpm: number, blocks: Plan['blocks']) => {
			const { go, view } = setUp({ ...plan, blocks });
			for (const [toS, bpm] of [
				[60, 170],
				[120, padsRestBpm],
				[180, 170],
				[240, padsRestBpm],
				[300, 170],
				[325, 150]
			] as const)
				go(toS, bpm);
			return view().corners[0]!.rest?.forecast;
		};
		const bag = plan.blocks;
		const pads = [{ ...bag[0]!, activity: 'pads' as const }];
		expect(forecastAfter(100, bag)).toEqual(forecastAfter(160, bag));
		expect(forecastAfter(100, pads)).not.toEqual(forecastAfter(160, pads));
	});
});
