import type { Cue } from '$lib/bell/cues';
import type { Clock } from '$lib/time/clock';
import fc from '../by-chance';
import { expect, it } from 'vitest';
import { fakeAudio } from './fake-audio';
import { readyRinger } from './ready-ringer';

const sounds = ['round start', 'clapper', 'round end', 'whistle'] as const;

const happening = fc.record({
	kind: fc.constantFrom(
		'packet',
		'packet',
		'packet',
		'same plan',
		'later cues',
		'scatter',
		'headphones',
		'stall'
	),
	/** Either so long after the last, or about the moment at which the next cue has to leave for the loudspeaker. */
	when: fc.oneof(
		fc.record({ afterMs: fc.oneof(fc.integer({ min: 0, max: 1500 }), fc.integer({ min: 0, max: 20_000 })) }),
		fc.record({ beforeCueMs: fc.integer({ min: -60, max: 150 }) })
	),
	size: fc.double({ min: 0, max: 1, noNaN: true })
});

const session = fc.record({
	gapsMs: fc.array(fc.integer({ min: 1000, max: 30_000 }), { minLength: 5, maxLength: 25 }),
	happenings: fc.array(happening, { maxLength: 80 }),
	/** How late the page's own wakes come. */
	lateMs: fc.constantFrom(0, 0, 900, 60_000),
	latencyMs: fc.integer({ min: 0, max: 80 }),
	burstMs: fc.constantFrom(0, 10, 40)
});

const wokenLate = ({ nowMs, wakeAt }: Clock, lateMs: number): Clock => ({
	nowMs,
	wakeAt: (atMs, wake) => wakeAt(atMs + lateMs, wake)
});

/** A cue this near when the page last looked is left as it was planned. */
const nearMs = 60;
/** The burst that a stroke waits for which is due at once, and the drift that is not followed. */
const toleranceMs = 40 + 1;

/** Lives through a session; answers what rang, what ought to have, and by how much the output had moved unseen. */
async function lived({
	gapsMs,
	happenings,
	lateMs,
	latencyMs,
	burstMs
}: typeof session extends fc.Arbitrary<infer How> ? How : never) {
	const audio = fakeAudio({ latencyS: latencyMs / 1000, burstS: burstMs / 1000 });
	const { ringer, originMs } = await readyRinger(audio, {}, wokenLate(audio.clock, lateMs));
	let atMs = 1000;
	let cues: Cue[] = gapsMs.map((gapMs, i) => ({ atMs: (atMs += gapMs), sound: sounds[i % sounds.length]! }));
	const looks: number[] = [0];
	const moves: { atMs: number; byMs: number }[] = [];
	const elapsedMs = () => audio.clock.nowMs() - originMs;
	const moveTo = (nextMs: number) => {
		audio.heard();
		moves.push({ atMs: elapsedMs(), byMs: Math.abs(nextMs - audio.latencyS * 1000) });
		audio.latencyS = nextMs / 1000;
	};
	ringer.schedule(cues, originMs);
	for (const { kind, when, size } of happenings) {
		const nextMs = cues.find((cue) => cue.atMs > elapsedMs())?.atMs ?? elapsedMs();
		audio.clock.advanceTo(
			'afterMs' in when
				? audio.clock.nowMs() + when.afterMs
				: originMs + nextMs - audio.latencyS * 1000 - when.beforeCueMs
		);
		if (kind === 'scatter') moveTo(Math.max(0, audio.latencyS * 1000 + (size - 0.5) * 10));
		if (kind === 'headphones') moveTo(size * 300);
		if (kind === 'stall') {
			const stallMs = size * 40;
			moves.push({ atMs: elapsedMs(), byMs: stallMs });
			audio.setRate(0);
			audio.clock.advanceTo(audio.clock.nowMs() + stallMs);
			audio.setRate(1);
		}
		if (kind === 'later cues') {
			const movedMs = elapsedMs() + 1000;
			cues = cues.map((cue) => (cue.atMs > movedMs ? { ...cue, atMs: cue.atMs + size * 5000 } : cue));
		}
		if (kind === 'packet') ringer.topUp();
		if (kind === 'same plan' || kind === 'later cues') ringer.schedule(cues, originMs);
		if (kind === 'packet' || kind === 'same plan' || kind === 'later cues') looks.push(elapsedMs());
	}
	audio.clock.advanceTo(audio.clock.nowMs() + 1_000_000);
	const mayBeOffMs = (dueMs: number) => {
		const seenMs = looks.findLast((ms) => ms <= dueMs - audioLeadMs)!;
		const unseen = moves.filter((move) => move.atMs >= seenMs && move.atMs <= dueMs + nearMs);
		return unseen.reduce((sum, { byMs }) => sum + byMs, toleranceMs);
	};
	return {
		heard: audio.heard().map((one) => ({ ...one, atMs: one.atMs - originMs })),
		cues,
		mayBeOffMs
	};
}

/** The longest latency, and how near a stroke is left alone. */
const audioLeadMs = 300 + nearMs;

it('rings every cue once and on its moment, whatever the page, the amendments and the output do', async () => {
	await fc.assert(
		fc.asyncProperty(session, async (how) => {
			const { heard, cues, mayBeOffMs } = await lived(how);
			expect(heard.map(({ sound }) => sound)).toEqual(cues.map(({ sound }) => sound));
			for (const [i, { atMs }] of cues.entries())
				expect(Math.abs(heard[i]!.atMs - atMs)).toBeLessThanOrEqual(mayBeOffMs(atMs));
		}),
		{ numRuns: 1000 }
	);
});
