import { describe, expect, it } from 'vitest';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { restByHeart, restByHeartWords, type RestByHeart } from '$lib/session/rest-by-heart';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap, recoveryBpm, shortPlan } from './builders';

const percent = 75;
const plan = { ...shortPlan, restS: 120, restDownToPercent: percent };
/** shortPlan: ten seconds to get ready, then a round of a minute. */
const bellS = 70;

interface Heart {
	name: string;
	thresholdBpm?: number;
	/** The rate at so many seconds of elapsed time; undefined where no packet comes. */
	at: (s: number) => number | undefined;
	/** What the strap says of contact; absent where it has no sensor. */
	contact?: (s: number) => 'contact' | 'no contact';
}

/** Plays the hearts on one bell, and answers the recorder as it stands at `untilS`. */
function play(hearts: readonly Heart[], untilS: number, atSecond: (recorder: Recorder) => void = () => {}) {
	const clock = manualClock();
	const recorder = new Recorder({
		start: makeStart({
			plan,
			corners: hearts.map(({ name, thresholdBpm }) => ({
				recordId: `record-${name}`,
				athlete: { athleteId: name, name, thresholdBpm },
				strapName: `Strap ${name}`,
				practice: false
			}))
		}),
		clock,
		originMs: 0,
		writeClock: clock,
		sink: makeSink().sink
	});
	const straps = hearts.map(({ name }) => makeStrap(`Strap ${name}`));
	straps.forEach(({ strap }, i) => recorder.straps.attach(i, strap));
	for (let s = 0; s < untilS; s++) {
		clock.advanceTo(s * 1000 + 500);
		hearts.forEach(({ at, contact }, i) => {
			const bpm = at(s);
			if (bpm !== undefined)
				straps[i]!.send(clock.nowMs(), Math.round(bpm), { contact: contact?.(s) ?? 'not supported' });
		});
		atSecond(recorder);
	}
	clock.advanceTo(untilS * 1000);
	return recorder;
}
const byHeartOf = (recorder: Recorder) => viewOf(recorder, recorder.advance()).byHeart;

const falling = (s: number) => (s < bellS ? 180 : recoveryBpm(s - bellS));
const steady = (bpm: number) => () => bpm;

describe('hearts in a rest by heart', () => {
	it('is nothing outside of a rest, nor in a plan of other rests', () => {
		expect(byHeartOf(play([{ name: 'Red', thresholdBpm: 170, at: falling }], 60))).toBeUndefined();
		const recorder = play([{ name: 'Red', thresholdBpm: 170, at: falling }], 100);
		const { phase, corners } = viewOf(recorder, recorder.advance());
		expect(restByHeart(percent, phase, 100_000, corners)).toBeDefined();
		expect(restByHeart(undefined, phase, 100_000, corners)).toBeUndefined();
	});

	it('are down once the mean of the last five seconds is, and not before second 20', () => {
		// By hand: the packet of second s holds for it, so after n seconds the last five are those of n-5 to n-1.
		const meanAt = (n: number) =>
			[1, 2, 3, 4, 5].reduce((sum, back) => sum + Math.round(recoveryBpm(n - back)), 0) / 5;
		for (const thresholdBpm of [238, 210, 190]) {
			let expectedS = 20;
			while (meanAt(expectedS) > (thresholdBpm * percent) / 100) expectedS++;
			let downS: number | undefined;
			play([{ name: 'Red', thresholdBpm, at: falling }], bellS + 120, (recorder) => {
				const nowMs = recorder.advance();
				if (viewOf(recorder, nowMs).byHeart?.isDown) downS ??= Math.floor(nowMs / 1000) - bellS;
			});
			expect(downS, `threshold ${thresholdBpm}`).toBe(expectedS);
		}
	});

	it('all have to be down at once: the slow one is waited for', () => {
		const slow = { name: 'Blue', thresholdBpm: 190, at: (s: number) => 180 - Math.max(0, s - bellS) / 4 };
		const fast = { name: 'Red', thresholdBpm: 230, at: falling };
		const half = byHeartOf(play([fast, slow], bellS + 60))!;
		expect(half.isDown).toBe(false);
		expect(restByHeartWords(half)).toBe('Rest until recovered: waiting for Blue (166, down to 142).');
		expect(byHeartOf(play([fast], bellS + 60))!.isDown).toBe(true);
	});

	it('does not wait for who has no threshold or no beat since the bell, and says so', () => {
		const hearts: Heart[] = [
			{ name: 'Red', thresholdBpm: 230, at: falling },
			{ name: 'Blue', at: steady(190) },
			{ name: 'Gold', thresholdBpm: 170, at: (s) => (s < bellS ? 170 : undefined) }
		];
		const view = byHeartOf(play(hearts, bellS + 40))!;
		expect(view.isDown).toBe(true);
		expect(restByHeartWords({ ...view, isDown: false })).toBe(
			'Rest until recovered: down; the bell comes after 30 seconds. Not waited for: Blue (no threshold) and Gold (no beat since the bell).'
		);
	});

	it('waits for a signal that was lost on the way down', () => {
		const lost: Heart = { name: 'Gold', thresholdBpm: 230, at: (s) => (s < bellS + 10 ? 170 : undefined) };
		const view = byHeartOf(play([{ name: 'Red', thresholdBpm: 230, at: falling }, lost], bellS + 40))!;
		expect(view.isDown).toBe(false);
		expect(restByHeartWords(view)).toBe('Rest until recovered: waiting for Gold (no signal, down to 172).');
	});

	it('leaves it to the longest rest where nobody can be waited for', () => {
		const view = byHeartOf(play([{ name: 'Red', at: falling }], bellS + 40))!;
		expect(view).toMatchObject({ isDown: false, settled: 'nobody to wait for' });
		expect(restByHeartWords(view)).toContain('no threshold. The longest rest decides.');
	});

	it('does not wait for who has left', () => {
		const slow: Heart = { name: 'Blue', thresholdBpm: 100, at: steady(180) };
		const view = byHeartOf(
			play([{ name: 'Red', thresholdBpm: 230, at: falling }, slow], bellS + 40, (recorder) => {
				if (recorder.session.elapsedMs() > 90_000) recorder.leave(1);
			})
		)!;
		expect(view.hearts.map(({ name }) => name)).toEqual(['Red']);
		expect(view.isDown).toBe(true);
	});

	it('is not ended by one stray beat', () => {
		const stray: Heart = { name: 'Red', thresholdBpm: 200, at: (s) => (s === bellS + 30 ? 60 : 180) };
		let wasDown = false;
		play([stray], bellS + 50, (recorder) => {
			wasDown ||= viewOf(recorder, recorder.advance()).byHeart?.isDown ?? false;
		});
		expect(wasDown).toBe(false);
	});

	it('goes on looking after second 90, where the picture of the fall stands still', () => {
		const late: Heart = { name: 'Red', thresholdBpm: 200, at: (s) => (s < bellS + 95 ? 180 : 140) };
		expect(byHeartOf(play([late], bellS + 94))!.isDown).toBe(false);
		expect(byHeartOf(play([late], bellS + 102))!.isDown).toBe(true);
	});

	it('sees a heart after second 90 too on a strap whose word on contact is not believed', () => {
		const heart: Heart = { name: 'Red', thresholdBpm: 200, at: steady(140), contact: () => 'no contact' };
		expect(byHeartOf(play([heart], bellS + 100))!.hearts[0]!.bpm).toBe(140);
		const loose: Heart = { ...heart, contact: (s) => (s < 50 ? 'contact' : 'no contact') };
		expect(byHeartOf(play([loose], bellS + 100))!.hearts[0]!.bpm).toBeUndefined();
	});
});

describe('the words', () => {
	const rest = (overrides: Partial<RestByHeart>): RestByHeart => ({
		percent,
		hearts: [{ name: 'Red', targetBpm: 128.6, bpm: 151.4 }],
		isDown: false,
		...overrides
	});
	it('say of one heart where it is and when the whistle blows', () => {
		expect(restByHeartWords(rest({}))).toBe(
			'Rest until recovered: 151 over five seconds; the whistle blows at 128, 75 % of the threshold.'
		);
		expect(restByHeartWords(rest({ settled: 'by heart' }))).toContain('the bell follows the whistle');
		expect(restByHeartWords(rest({ settled: 'by hand' }))).toContain('longer by hand');
		const down = [{ name: 'Red', targetBpm: 128.6, bpm: 127 }];
		expect(restByHeartWords(rest({ hearts: down }))).toContain('down; the bell comes after 30 seconds');
		// In its last ten seconds a heart that comes down no longer brings the bell forward.
		expect(restByHeartWords(rest({ hearts: down, isDown: true }))).toContain(
			'down; the bell comes with the longest rest'
		);
	});
});
