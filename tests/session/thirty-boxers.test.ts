import { beforeAll, describe, expect, it } from 'vitest';
import type { SessionRecord } from '$lib/record/body';
import { Hearer } from '$lib/session/hearing';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { Teller } from '$lib/session/telling';
import { manualClock } from '$lib/time/manual-clock';
import { handedAfter, takingTurns, withHandOvers, type Turn } from '$lib/rounds/turns';
import { makeSink, makeStart, makeStrap, recoveryBpm, shortPlan } from './builders';
import { boxerOf, readByName } from './shared-strap';

/** What one message to another window may come to. */
const mostCharacters = 20_000;
const boxers = 30;
const straps = 8;
const roundCount = 8;

/** Strap s goes from boxer s to s + 8, s + 16 and, where there is one, s + 24. */
const turns = Array.from({ length: straps }, (_, strap): Turn<number>[] => {
	const wearers = Array.from({ length: boxers }, (_, who) => who).filter((who) => who % straps === strap);
	return takingTurns(4, roundCount, 2).flatMap((rounds, i) =>
		wearers[i] === undefined ? [] : { who: wearers[i], rounds }
	);
});
const plan = withHandOvers(
	{ ...shortPlan, getReadyS: 0, roundCount, roundS: 60, restS: 60 },
	handedAfter(turns[0]!, roundCount),
	30
);
// Rounds of 60 s and rests of 60, but for 90 after rounds 2, 4 and 6.
const roundStartS = [0, 120, 270, 390, 540, 660, 810, 930];
const bpmOf = (who: number, s: number) => {
	const startS = roundStartS.findLast((from) => from <= s)!;
	return (s - startS < 60 ? 175 : Math.round(recoveryBpm(s - startS - 60))) - who;
};

describe('thirty boxers who take turns on eight straps', () => {
	const lanes = new Set<number>();
	const lengths: number[] = [];
	const differing: number[] = [];
	const sent = new Map<number, number[][]>();
	let records: SessionRecord[];
	let entered: unknown;
	let handed = 0;

	beforeAll(async () => {
		const clock = manualClock();
		const sink = makeSink();
		const corners = Array.from({ length: boxers }, (_, who) =>
			boxerOf(`Boxer ${who}`.replace(' ', '-'), who < straps ? `Strap ${who}` : undefined)
		);
		const start = makeStart({
			plan,
			corners,
			turns: turns.map((ofStrap) => ofStrap.map(({ who, rounds }) => ({ who, rounds: [...rounds] })))
		});
		const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink: sink.sink });
		const made = Array.from({ length: straps }, (_, i) => makeStrap(`Strap ${i}`));
		made.forEach(({ strap }, i) => recorder.straps.attach(i, strap));
		const chests = made.map((_, i) => i);
		const [teller, hearer] = [new Teller(), new Hearer()];
		for (let s = 0; s < 1050; s++) {
			clock.advanceTo(s * 1000 + 300);
			chests.forEach((who, i) => {
				const bpm = bpmOf(who, s);
				made[i]!.send(clock.nowMs(), bpm);
				sent.set(who, [...(sent.get(who) ?? []), [s * 1000 + 300, bpm]]);
			});
			recorder.advance();
			for (const { from, to, waitMs } of recorder.due) {
				if (waitMs > 0 || !recorder.straps.handOver(from, to)) continue;
				chests[chests.indexOf(from)] = to;
				handed++;
			}
			if (s % 5 !== 0) continue;
			const view = viewOf(recorder, recorder.advance());
			lanes.add(view.corners.length);
			const now = { view, timeline: recorder.session.timeline, speed: 1 };
			const words = teller.wordsFor(now, false);
			lengths.push(...words.map((word) => JSON.stringify(word).length));
			const heard = words.map((word) => hearer.hear(structuredClone(word))).at(-1);
			if (s % 35 !== 0) continue;
			try {
				expect(heard).toEqual(structuredClone(now));
			} catch {
				differing.push(s);
			}
		}
		clock.advanceTo(1_050_000);
		({ records } = await recorder.end(1_050_000));
		entered = sink.entered;
	}, 60_000);

	it('show eight lanes at every moment, and tell another window of them in under 20 kB', () => {
		expect(lanes).toEqual(new Set([8]));
		expect(lengths.length).toBeGreaterThan(200);
		expect(Math.max(...lengths)).toBeLessThan(mostCharacters);
		expect(differing).toEqual([]);
	});

	it('come to thirty records, each with what the strap sent on that chest', () => {
		expect(handed).toBe(22);
		expect(records).toHaveLength(30);
		expect(readByName(records)).toEqual(
			Object.fromEntries([...sent].map(([who, read]) => [`Boxer-${who}`, read]))
		);
		expect(entered).toEqual([]);
	});
});
