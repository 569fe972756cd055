import { cuesOf } from '$lib/bell/cues';
import { defaultBellSettings } from '$lib/bell/settings';
import { timelineOf } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, makePlan } from '../rounds/plans';
import { fakeAudio } from './fake-audio';
import { bells, heardOf, readyRinger, settings, twelveRounds, wokenOnceAMinute } from './ready-ringer';

const { on } = defaultBellSettings;

describe('a bout', () => {
	it('rings every cue once, on its moment', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(twelveRounds, originMs);
		audio.clock.advanceTo(3_600_000);
		expect(heardOf(audio, originMs)).toEqual(twelveRounds);
	});

	it('rings in a hidden tab that is woken once a minute', async () => {
		const audio = fakeAudio();
		const { ringer, originMs } = await readyRinger(audio, {}, wokenOnceAMinute(audio.clock));
		ringer.schedule(twelveRounds, originMs);
		audio.clock.advanceTo(3_600_000);
		expect(heardOf(audio, originMs)).toEqual(twelveRounds);
	});

	it('plans two and a half minutes ahead and no further', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(
			[149, 150, 151].map((s) => ({ atMs: s * 1000, sound: 'count' as const })),
			originMs
		);
		expect(audio.sourcesMade).toBe(2);
	});

	it('leaves what is planned alone while the two clocks agree', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(twelveRounds, originMs);
		for (let ms = 1000; ms <= 3_000_000; ms += 1000) {
			audio.clock.advanceTo(ms);
			ringer.topUp();
		}
		expect(audio.sourcesMade).toBe(twelveRounds.length);
	});
});

describe('volumes', () => {
	it('of all and of single sounds are multiplied, and follow a change on the way', async () => {
		const { audio, ringer, originMs } = await readyRinger(fakeAudio(), {
			volume: 0.5,
			levels: { 'round end': 0.5 }
		});
		ringer.schedule(
			[
				{ atMs: 10_000, sound: 'round start' },
				{ atMs: 20_000, sound: 'round end' }
			],
			originMs
		);
		// Sliders act squared: 0.5 is a quarter.
		expect(audio.gains()).toEqual([0.25, 0.0625]);
		ringer.configure(settings({ volume: 1, levels: { 'round start': 0 } }));
		expect(audio.gains()).toEqual([0, 1]);
	});
});

describe('the two clocks', () => {
	it('the latency the browser knows is made up for', async () => {
		const { audio, ringer, originMs } = await readyRinger(fakeAudio({ latencyS: 0.18 }));
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('the delay the athlete knows is taken off, also when it is changed on the way', async () => {
		const { audio, ringer, originMs } = await readyRinger(fakeAudio(), { delayMs: 150 });
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(100_000);
		ringer.configure(settings({ delayMs: 400 }));
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs).map(({ atMs }) => atMs)).toEqual([9850, 189_600]);
	});

	it('an output that runs off by 200 parts in a million is followed', async () => {
		const audio = fakeAudio();
		audio.setRate(1.0002);
		const { ringer, originMs } = await readyRinger(audio);
		ringer.schedule(twelveRounds, originMs);
		audio.clock.advanceTo(3_600_000);
		const heard = heardOf(audio, originMs);
		expect(heard.map(({ sound }) => sound)).toEqual(twelveRounds.map(({ sound }) => sound));
		// Left alone for the 150 s of the horizon the last stroke would be 30 ms off.
		const worstMs = Math.max(...heard.map(({ atMs }, i) => Math.abs(atMs - twelveRounds[i]!.atMs)));
		expect(worstMs).toBeLessThan(4);
	});

	it('an output whose latency jumps, as when headphones are put on, is followed', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(60_000);
		expect(audio.heard()).toHaveLength(1);
		audio.latencyS = 0.25;
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});
});

describe('changes on the way', () => {
	const plan = makePlan({ getReadyS: 15 });
	const scenarios: [name: string, presses: string[]][] = [
		['pause and resume in a round', ['pause@100', 'resume@160']],
		['pause between the clapper and the bell', ['pause@190', 'resume@250']],
		['two pauses in a rest', ['pause@200', 'resume@220', 'pause@230', 'resume@300']],
		['a skipped rest', ['next@210']],
		['a round ended early, after its clapper', ['next@190']],
		['rounds added, one of them in the closing minute', ['add round@20', 'add round@920']],
		['a round repeated', ['repeat round@300']],
		['a round boxed again after its rest', ['repeat round@200']],
		['a rest extended before its whistle', ['extend rest@220']],
		['a round stopped', ['stop round@60']],
		['the end, early', ['finish@300']],
		[
			'all of it',
			['pause@5', 'resume@9', 'next@100', 'add round@120', 'pause@170', 'resume@171', 'finish@500']
		]
	];

	it.each(scenarios)('%s: none missed, none doubled, none rung that was taken back', async (_, presses) => {
		const { audio, ringer, originMs } = await readyRinger();
		const amendments = amendmentsOf(...presses);
		const cuesAfter = (count: number) =>
			cuesOf(timelineOf(plan, amendments.slice(0, count)), { ...plan, on });
		ringer.schedule(cuesAfter(0), originMs);
		for (const [i, { atMs }] of amendments.entries()) {
			audio.clock.advanceTo(originMs + atMs);
			ringer.schedule(cuesAfter(i + 1), originMs);
		}
		audio.clock.advanceTo(originMs + 3_600_000);
		expect(heardOf(audio, originMs)).toEqual(cuesAfter(amendments.length));
	});

	it.each([0, 1, 40, 200])('planned anew %i ms after a bell, it is not rung twice', async (afterMs) => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(originMs + 10_000 + afterMs);
		ringer.schedule(bells, originMs);
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('a stroke already on its way through a slow output is not sent after itself', async () => {
		const { audio, ringer, originMs } = await readyRinger(fakeAudio({ latencyS: 0.3 }));
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(originMs + 9850);
		// The round is begun by hand 150 ms before its bell, which left the page 150 ms ago.
		ringer.schedule([{ atMs: 9850, sound: 'round start' }, bells[1]!], originMs);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('what has just passed is rung at once, what is longer past not at all', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		audio.clock.advanceTo(originMs + 10_000);
		ringer.schedule(
			[
				{ atMs: 9790, sound: 'clapper' },
				{ atMs: 9810, sound: 'round end' }
			],
			originMs
		);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([{ atMs: 10_000, sound: 'round end' }]);
	});

	it('an empty plan takes everything back', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		ringer.schedule([], 0);
		audio.clock.advanceTo(400_000);
		expect(audio.heard()).toEqual([]);
	});
});

describe('ring', () => {
	it('rings now, beside what is planned', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(originMs + 5000);
		ringer.ring('pulse');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([{ atMs: 5000, sound: 'pulse' }, ...bells]);
	});

	it('is not kept for later where it cannot be heard', async () => {
		const audio = fakeAudio({ state: 'suspended' });
		const { ringer } = await readyRinger(audio);
		ringer.ring('pulse');
		audio.setState('running');
		audio.clock.advanceTo(400_000);
		expect(audio.heard()).toEqual([]);
	});
});
