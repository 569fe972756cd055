import { describe, expect, it } from 'vitest';
import type { JournalEntry } from '$lib/record/journal';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { summaryOf } from '$lib/review/summary';
import { manualClock } from '$lib/time/manual-clock';
import { athlete, makeSink, makeStart, makeStrap, shortPlan } from './builders';

// shortPlan: ten seconds to get ready, rounds and rests of a minute; the threshold is 165.
function setUp(plan = shortPlan, history: JournalEntry[] = [], elapsedMs = 0, names = ['Red']) {
	const clock = manualClock(elapsedMs);
	const sink = makeSink();
	const corners = names.map((name) => ({
		recordId: `record-${name}`,
		athlete: { ...athlete, athleteId: name, name },
		strapName: `${name} strap`,
		practice: false
	}));
	const recorder = new Recorder(
		{ start: makeStart({ plan, corners }), clock, originMs: 0, writeClock: clock, sink: sink.sink },
		history
	);
	const straps = names.map((name) => makeStrap(`${name} strap`));
	return { clock, sink, recorder, straps, red: straps[0]! };
}
const keptRound = async (recorder: Recorder, endMs: number, round = 0, corner = 0) =>
	summaryOf((await recorder.end(endMs)).records[corner]!).rounds[round]!;

describe('a second', () => {
	it('counts with a packet of its last 50 ms', async () => {
		const { clock, recorder, red } = setUp();
		recorder.straps.attach(0, red.strap);
		// Over the threshold from second 20, by its packet at 20.97 s, to second 61, the second one of the burst.
		for (let s = 0; s < 140; s++) {
			clock.advanceTo(s * 1000 + 970);
			red.send(clock.nowMs(), s >= 20 && s < 62 ? 170 : s < 70 ? 150 : 150 - Math.floor((s - 69) / 2));
		}
		recorder.advance();
		const live = recorder.corners[0]!.rounds[0]!;
		expect(live.over).toMatchObject({ overS: 40, burstOverS: 2, coverage: 1 });
		// By hand: 150 at the bell, and 125 to 129 s bring 122, 122, 121, 121, 120.
		expect(live.rest!.measure).toMatchObject({ bellBpm: 150, rate60: 121.2 });
		const kept = await keptRound(recorder, 140_000);
		expect(live.over).toEqual(kept.over);
		expect(live.rest!.measure).toMatchObject({ drop60: kept.rest!.drop60, restDrop: kept.rest!.restDrop });
	});

	it('that the grace lets reach beyond its round ends with the round', async () => {
		const { clock, recorder, red } = setUp();
		recorder.straps.attach(0, red.strap);
		for (let s = 0; s < 40; s++) {
			clock.advanceTo(s * 1000 + 500);
			red.send(clock.nowMs(), 170);
		}
		clock.advanceTo(40_960);
		red.send(clock.nowMs(), 171);
		recorder.amend('stop round');
		clock.advanceTo(40_980);
		red.send(clock.nowMs(), 120);
		clock.advanceTo(50_000);
		recorder.advance();
		const { over } = recorder.corners[0]!.rounds[0]!;
		expect(over).toMatchObject({ overS: 31, workS: 31 });
		expect((await keptRound(recorder, 50_000)).over).toEqual(over);
	});

	it('between the press of Start and the loading of the session counts too', async () => {
		const { clock, recorder, red } = setUp({ ...shortPlan, getReadyS: 0 }, [], 6000);
		recorder.takeEarlier(
			0,
			Array.from({ length: 12 }, (_, s) => ({
				ms: -5700 + s * 1000,
				bpm: 180,
				contact: 'not supported' as const,
				rrMs: []
			}))
		);
		recorder.straps.attach(0, red.strap);
		for (let s = 6; s < 70; s++) {
			clock.advanceTo(s * 1000 + 300);
			red.send(clock.nowMs(), 180);
		}
		const { over } = recorder.corners[0]!.rounds[0]!;
		expect(over).toMatchObject({ overS: 50, burstOverS: 10, coverage: 1 });
		expect((await keptRound(recorder, 70_000)).over).toEqual(over);
	});
});

describe('the closing burst', () => {
	it('is the last ten seconds of the work, whatever fraction of a second a pause takes', async () => {
		const { clock, recorder, red } = setUp();
		recorder.straps.attach(0, red.strap);
		for (let s = 0; s < 90; s++) {
			if (s === 61) {
				clock.advanceTo(61_300);
				recorder.amend('pause');
			}
			if (s === 68) {
				clock.advanceTo(68_600);
				recorder.amend('resume');
			}
			clock.advanceTo(Math.max(clock.nowMs(), s * 1000 + 700));
			red.send(clock.nowMs(), 180);
		}
		const { over } = recorder.corners[0]!.rounds[0]!;
		// It begins at 60 s: seconds 60, and after the pause 69 to 76, lie in it by their middle.
		expect(over).toMatchObject({ overS: 50, burstOverS: 9, workS: 59 });
		expect((await keptRound(recorder, 90_000)).over).toEqual(over);
	});
});

describe('a rest', () => {
	it('of more than 90 s is measured live to its end', async () => {
		const { clock, recorder, red } = setUp({ ...shortPlan, restS: 130 });
		recorder.straps.attach(0, red.strap);
		for (let s = 0; s < 205; s++) {
			clock.advanceTo(s * 1000 + 500);
			if (s < 165 || s > 180) red.send(clock.nowMs(), s < 70 ? 180 : 180 - Math.round((s - 70) / 3));
		}
		const { coverage, restDrop } = recorder.corners[0]!.rounds[0]!.rest!.measure;
		// Of 130 s the packets of 16 are missing, of which the hold bridges one.
		expect(coverage).toBeCloseTo(115 / 130, 10);
		const { rest } = await keptRound(recorder, 205_000);
		expect({ coverage, restDrop }).toEqual({ coverage: rest!.coverage, restDrop: rest!.restDrop });
	});

	it('is measured from its bell where the session is finished while getting ready for another try', async () => {
		const { clock, recorder, red } = setUp();
		recorder.straps.attach(0, red.strap);
		for (let s = 0; s < 260; s++) {
			if (s === 40) recorder.amend('repeat round');
			if (s === 45) recorder.amend('pause');
			if (s === 170) recorder.amend('finish');
			clock.advanceTo(s * 1000 + 500);
			red.send(clock.nowMs(), s < 40 ? 180 : 140);
		}
		const live = recorder.corners[0]!.rounds[0]!.rest?.measure;
		expect(live).toMatchObject({ bellBpm: 180, drop60: 40 });
		const { rest } = await keptRound(recorder, recorder.session.endMs);
		expect(rest).toMatchObject(live!);
	});
});

describe('what a strap says of contact', () => {
	it('is judged afresh in the corner that it is swapped into, live and kept', async () => {
		const { clock, recorder, straps } = setUp(shortPlan, [], 0, ['Red', 'Blue']);
		straps.forEach(({ strap }, corner) => recorder.straps.attach(corner, strap));
		for (let s = 0; s < 190; s++) {
			if (s === 65) recorder.straps.swap(0, 1);
			clock.advanceTo(s * 1000 + 300);
			straps[0]!.send(clock.nowMs(), 150, { contact: 'contact' });
			straps[1]!.send(clock.nowMs(), 170, { contact: 'no contact' });
		}
		const views = viewOf(recorder, recorder.advance()).corners;
		expect(views.map(({ signal, ignoresContact }) => [signal.bpm, ignoresContact])).toEqual([
			[170, true],
			[150, false]
		]);
		const live = recorder.corners.map(({ rounds }) => rounds.map(({ over }) => over));
		const { records } = await recorder.end(190_000);
		const kept = records.map((record) => summaryOf(record).rounds);
		expect(kept.map((rounds) => rounds.map(({ averageBpm }) => Math.round(averageBpm!)))).toEqual([
			[152, 170],
			[168, 150]
		]);
		// The first sixty after the change are read by the answer too.
		expect(kept.flat().map(({ coverage }) => coverage)).toEqual([1, 1, 1, 1]);
		expect(live.map(([first]) => first)).toEqual(kept.map(([first]) => first!.over));
	});

	it('is judged afresh of a strap put on in place of another, and after going on from a journal', async () => {
		const play = ({ clock, recorder }: ReturnType<typeof setUp>, spare = makeStrap('Spare')) => ({
			until: async (fromS: number, toS: number, first?: ReturnType<typeof makeStrap>) => {
				for (let s = fromS; s < toS; s++) {
					if (s === 80) recorder.straps.attach(0, spare.strap);
					clock.advanceTo(s * 1000 + 300);
					if (s < 80) first?.send(clock.nowMs(), 150, { contact: 'contact' });
					else spare.send(clock.nowMs(), 170, { contact: 'no contact' });
					await Promise.resolve();
					await Promise.resolve();
				}
				await new Promise((resolve) => setTimeout(resolve));
			},
			spare
		});
		const session = setUp();
		session.recorder.straps.attach(0, session.red.strap);
		await play(session).until(0, 100, session.red);
		const again = setUp(shortPlan, session.sink.entries, 100_000);
		const goesOn = play(again);
		again.recorder.straps.attach(0, goesOn.spare.strap);
		await goesOn.until(100, 191);
		again.recorder.advance();
		const live = again.recorder.corners[0]!.rounds[1]!.over;
		expect(live).toMatchObject({ overS: 50, burstOverS: 10, coverage: 1 });
		expect((await keptRound(again.recorder, 191_000, 1)).over).toEqual(live);
	});

	it('stands where a strap has once reported contact, though the one before it never did', async () => {
		const { clock, recorder, red } = setUp();
		recorder.straps.attach(0, red.strap);
		const sound = makeStrap('Sound');
		for (let s = 0; s < 135; s++) {
			if (s === 65) recorder.straps.attach(0, sound.strap);
			clock.advanceTo(s * 1000 + 300);
			if (s < 65) red.send(clock.nowMs(), 150, { contact: 'no contact' });
			else sound.send(clock.nowMs(), 150, { contact: s < 100 ? 'contact' : 'no contact' });
		}
		recorder.advance();
		expect(viewOf(recorder, recorder.advance()).corners[0]!.signal).toMatchObject({
			words: 'no skin contact'
		});
		const { over, rest } = await keptRound(recorder, 135_000);
		expect(over!.coverage).toBe(1);
		// Of the rest of a minute from 70 s on: to 99 s by its beats, and second 100 by none.
		expect(rest!.coverage).toBe(0.5);
	});
});
