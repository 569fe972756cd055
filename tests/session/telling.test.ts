import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { Hearer } from '$lib/session/hearing';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { Tabs } from '$lib/session/tabs.svelte';
import { Teller, type LiveSnapshot, type Word } from '$lib/session/telling';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap, recoveryBpm, shortPlan } from './builders';

/** What one message may come to. */
const mostCharacters = 20_000;
const hour = 3600;
const roundS = 180;
const cycleS = 240;

const names = ['Odalys', 'Tomas', 'Adem', 'Bao', 'Nerea', 'Ilkay', 'Wanjiru', 'Sione'];
const corners = names.map((name) => ({
	recordId: `record of ${name}`,
	athlete: { athleteId: `id of ${name}`, name, thresholdBpm: 165, birthYear: 1999, weightKg: 70 },
	strapName: `Strap of ${name}`,
	practice: false
}));

/** Eight boxers whom the gym's own bell rings through rounds of three minutes and rests of one, for as long as it takes. */
function evening(plan = {}) {
	const clock = manualClock();
	const start = makeStart({ plan: { ...shortPlan, getReadyS: 0, followsGymBell: true, ...plan }, corners });
	const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink: makeSink().sink });
	const straps = corners.map(({ strapName }, i) => {
		const made = makeStrap(strapName);
		recorder.straps.attach(i, made.strap);
		return made;
	});
	let s = 0;
	return {
		recorder,
		told: (): LiveSnapshot => ({
			view: viewOf(recorder, recorder.advance()),
			timeline: recorder.session.timeline,
			speed: 1
		}),
		/** Goes on to this second, and tells what happens at each moment `eachS` apart. */
		boxUntil(untilS: number, eachS = Infinity, tell: () => void = () => {}) {
			for (; s < untilS; s++) {
				clock.advanceTo(s * 1000 + 300);
				const inCycleS = s % cycleS;
				if ('followsGymBell' in start.plan && start.plan.followsGymBell)
					if (inCycleS === 0 || inCycleS === roundS) recorder.amend('next');
				const bpm = inCycleS < roundS ? 175 : Math.round(recoveryBpm(inCycleS - roundS));
				straps.forEach(({ send }, i) => send(clock.nowMs(), bpm - i));
				if (s % eachS === 0) tell();
			}
		}
	};
}
const sizeOf = (words: readonly Word[]) => Math.max(...words.map((word) => JSON.stringify(word).length));
const heardBy = (hearer: Hearer, words: readonly Word[]) =>
	words.map((word) => hearer.hear(structuredClone(word))).at(-1);

describe('what a watching window is told', () => {
	let long: ReturnType<typeof evening>;
	let longest = 0;
	let told = 0;
	const differing: number[] = [];
	const teller = new Teller();
	const hearer = new Hearer();

	beforeAll(() => {
		long = evening();
		const tell = () => {
			const now = long.told();
			const words = teller.wordsFor(now, false);
			longest = Math.max(longest, sizeOf(words));
			told++;
			const heard = heardBy(hearer, words);
			// To compare whole views takes long: one in so many is enough, and in every second of the cycle once.
			if (told % 97 !== 0) return;
			try {
				expect(heard).toEqual(structuredClone(now));
			} catch {
				differing.push(now.view.elapsedMs);
			}
		};
		long.boxUntil(6 * hour, 7, tell);
	}, 240_000);

	it('stays under 20 kB a message through six hours with eight boxers', () => {
		expect(told).toBeGreaterThan(3000);
		expect(longest).toBeLessThan(mostCharacters);
		expect(JSON.stringify(long.told()).length, 'all of it, for comparison').toBeGreaterThan(1e6);
	});

	it('comes to the very view that the recording window shows', () => {
		expect(told).toBeGreaterThan(3000);
		expect(differing).toEqual([]);
	});

	it('is all of it for one that comes late, in messages just as short', () => {
		const late = new Hearer();
		const now = long.told();
		expect(heardBy(late, teller.wordsFor(now, false)), 'it must ask first').toBe('missed');
		const words = teller.wordsFor(now, true);
		expect(words.length).toBeGreaterThan(10);
		expect(sizeOf(words)).toBeLessThan(mostCharacters);
		expect(heardBy(late, words)).toEqual(structuredClone(now));
		expect(now.view.corners[0]!.rounds).toHaveLength(90);
		expect(heardBy(hearer, words), 'who knew it before is none the worse').toEqual(structuredClone(now));
	});

	it('is asked for anew by one that missed a word', () => {
		const now = long.told();
		teller.wordsFor(now, false);
		expect(heardBy(hearer, teller.wordsFor(now, false))).toBe('missed');
		expect(heardBy(hearer, teller.wordsFor(now, true))).toEqual(structuredClone(now));
	});

	it('follows a plan of many rounds that an amendment moves, in short messages too', () => {
		const planned = evening({ followsGymBell: undefined, roundCount: 99, roundS, restS: 60 });
		const teller = new Teller();
		const hearer = new Hearer();
		heardBy(hearer, teller.wordsFor(planned.told(), false));
		planned.boxUntil(400);
		for (const kind of ['pause', 'resume', 'repeat round', 'stop round', 'next'] as const) {
			planned.recorder.amend(kind);
			planned.boxUntil(planned.told().view.elapsedMs / 1000 + 20);
			const now = planned.told();
			const words = teller.wordsFor(now, false);
			expect(sizeOf(words), kind).toBeLessThan(mostCharacters);
			expect(heardBy(hearer, words), kind).toEqual(structuredClone(now));
		}
	});

	it('follows who leaves and joins, and rounds that never were', () => {
		const gym = evening();
		const { recorder } = gym;
		const teller = new Teller();
		const hearer = new Hearer();
		const follows = (what: string) => {
			const now = gym.told();
			expect(heardBy(hearer, teller.wordsFor(now, false)), what).toEqual(structuredClone(now));
		};
		gym.boxUntil(300);
		follows('from the middle of a round');
		recorder.leave(3);
		follows('one has left');
		recorder.join({ ...corners[3]!, recordId: 'again' });
		gym.boxUntil(500);
		follows('one has joined');
		recorder.amend('next');
		recorder.amend('next');
		follows('two bells at one moment');
		recorder.amend('next');
		gym.boxUntil(502);
		follows('and a third');
	});

	describe('over the channel of the tabs', () => {
		const open: (() => void)[] = [];
		afterEach(() => {
			for (const close of open.splice(0)) close();
			vi.restoreAllMocks();
		});
		const tabs = () => {
			const made = new Tabs(undefined);
			open.push(made.listen());
			return made;
		};

		it('a window that opens after six hours gets the whole picture, and no message is long', async () => {
			const post = vi.spyOn(BroadcastChannel.prototype, 'postMessage');
			const recording = tabs();
			await recording.take();
			const now = long.told();
			const teller = new Teller();
			recording.show(now, teller);
			const [late, another] = [tabs(), tabs()];
			await vi.waitFor(() => expect(late.watched && another.watched).toBeDefined());
			expect(late.heard!.told.timeline).toEqual(now.timeline);
			expect(late.watched!.corners).toEqual(structuredClone(now.view.corners));
			expect(another.watched!.corners).toEqual(late.watched!.corners);
			await new Promise((resolve) => setTimeout(resolve, 270));
			post.mockClear();

			recording.show({ ...now, view: { ...now.view, ranMs: 1 } }, teller);
			await vi.waitFor(() => expect(late.watched!.ranMs).toBe(1));
			expect(late.watched!.corners[7]!.rounds).toHaveLength(90);
			expect(post.mock.calls.map(([message]) => JSON.stringify(message).length)).toEqual([
				expect.toSatisfy((length: number) => length < mostCharacters)
			]);
		});
	});
});
