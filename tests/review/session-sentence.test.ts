import { describe, expect, it } from 'vitest';
import { dropsTogether, sessionSentence, sharedReason } from '$lib/review/session-sentence';
import { makeRound, makeSummary } from './session-builders';

const real = { practice: false };
const drops = (...values: (number | undefined)[]) => values.map((drop, i) => makeRound(i + 1, drop));
const noChange = { trend: 'no clear change' as const, slopeBpm: -5.6, slopeErrorBpm: 3.2, restCount: 3 };

describe('the sentence that leads the review of a session', () => {
	it('tells the drops in whole beats, what becomes of them, and the time over threshold', () => {
		const summary = makeSummary({
			rounds: drops(48.6, 41.2, 37.4),
			peakBpm: 186,
			overS: 421,
			fade: noChange
		});
		expect(sessionSentence(real, summary)).toBe(
			'Drops 49, 41, 37: no clear change. 7:01 of 9:00 over threshold.'
		);
	});

	it('claims no trend of one or two drops, and says where none was judged', () => {
		expect(sessionSentence(real, makeSummary({ rounds: drops(36), peakBpm: 180 }))).toBe('Drop 36.');
		expect(sessionSentence(real, makeSummary({ rounds: drops(36, undefined, 30), peakBpm: 180 }))).toBe(
			'Drops 36, 30.'
		);
		const easy = [makeRound(1, 20, 'not judged'), makeRound(2, 22, 'not judged')];
		expect(sessionSentence(real, makeSummary({ rounds: easy, peakBpm: 120 }))).toBe(
			'Drops 20, 22, not judged.'
		);
	});

	it('lists twelve drops, and tells thirteen by their ends (own rule)', () => {
		const told = (count: number) =>
			sessionSentence(
				real,
				makeSummary({ rounds: drops(...Array.from({ length: count }, () => 40)), peakBpm: 180 })
			);
		expect(told(12)).toBe(`Drops ${Array.from({ length: 12 }, () => '40').join(', ')}.`);
		expect(told(13)).toBe('13 drops from 40 to 40.');
	});

	it('tells the drops of each activity by themselves, with a trend of their own', () => {
		const of = (activity: 'pads' | 'bag', ...values: (number | undefined)[]) =>
			drops(...values).map((round) => ({ ...round, activity }));
		const last = { ...makeRound(4, undefined), activity: 'pads' as const, rest: undefined };
		const rounds = [...of('pads', 40, 42, 41), ...of('bag', 30, undefined), last];
		expect(sessionSentence(real, makeSummary({ rounds, peakBpm: 180 }))).toBe(
			'Pads: drops 40, 42, 41: no clear change. Bag: drop 30.'
		);
		// One of which no drop was measured is not spoken of.
		const one = [...of('pads', undefined), ...of('bag', 30)];
		expect(sessionSentence(real, makeSummary({ rounds: one, peakBpm: 180 }))).toBe('Bag: drop 30.');
		const none = [...of('pads', undefined), ...of('bag', undefined)];
		expect(sessionSentence(real, makeSummary({ rounds: none, peakBpm: 180 }))).toBe(
			'No drop: no rest of a full minute with a clean signal.'
		);
		expect(sessionSentence(real, makeSummary({ rounds: none }))).toBe(
			'Nothing was measured: no reading came in.'
		);
	});

	it('says of a guided measurement without a result that there is none, also where nobody knows why', () => {
		const nothing = (kind: 'threshold run' | 'resting' | 'recovery check', reasons: string[]) =>
			sessionSentence(real, makeSummary({ guided: { kind, reasons }, rounds: drops(38), peakBpm: 180 }));
		expect(nothing('threshold run', [])).toBe('No threshold from this run.');
		expect(nothing('resting', [])).toBe('No resting rate.');
		expect(nothing('recovery check', [])).toBe('No recovery speed. Drop 38.');
		expect(nothing('recovery check', ['Too short.', 'Too wild.'])).toBe(
			'No recovery speed. Too short. Drop 38.'
		);
	});

	it('leaves out a posture and an error that nobody knows', () => {
		const resting = { kind: 'resting' as const, restBpm: 52.3, reasons: [] };
		expect(sessionSentence(real, makeSummary({ guided: resting }))).toBe(
			'Resting rate 52: the lowest minute.'
		);
		const check = { kind: 'recovery check' as const, tauS: 41.4, reasons: [] };
		expect(
			sessionSentence(real, makeSummary({ guided: check, rounds: drops(38), peakBpm: 180, overS: 61 }))
		).toBe('Recovery speed 41 s; shorter is faster. Drop 38. 1:01 of 9:00 over threshold.');
	});

	it('tells many drops by their ends', () => {
		const many = Array.from({ length: 20 }, (_, i) => 50 - i);
		expect(sessionSentence(real, makeSummary({ rounds: drops(...many), peakBpm: 180 }))).toBe(
			'20 drops from 31 to 50.'
		);
	});

	it('tells a rate that rose as no drop, never as a negative one', () => {
		const summary = makeSummary({ rounds: drops(-4.2, 6, -0.3), peakBpm: 120 });
		expect(sessionSentence(real, summary)).toBe('Drops none (rose 4), 6, 0.');
	});

	it('leads a threshold run with both means', () => {
		const guided = { kind: 'threshold run' as const, reasons: [] };
		const run = { meanBpm: 167.6, bpm: 159.2, confidence: 'fair' as const, reasons: [], coverage: 1 };
		expect(sessionSentence(real, makeSummary({ guided, overS: 90 }), run)).toBe(
			'Mean of the 20 minutes 168; less 5 % 159. Confidence: fair.'
		);
		const stopped = {
			kind: 'threshold run' as const,
			reasons: ['The measurement was stopped before it began.']
		};
		expect(sessionSentence(real, makeSummary({ guided: stopped }))).toBe(
			'No threshold from this run. The measurement was stopped before it began.'
		);
	});

	it('tells a resting rate in whole beats with its posture, and nothing of drops', () => {
		const guided = { kind: 'resting' as const, posture: 'lying' as const, restBpm: 52.3, reasons: [] };
		expect(sessionSentence(real, makeSummary({ guided }))).toBe('Resting rate 52: the lowest minute, lying.');
		expect(
			sessionSentence(
				real,
				makeSummary({ guided: { ...guided, restBpm: undefined, reasons: ['Too short.'] } })
			)
		).toBe('No resting rate. Too short.');
	});

	it('leads a recovery check with the recovery speed', () => {
		const guided = { kind: 'recovery check' as const, tauS: 41.4, tauErrorS: 5.2, reasons: [] };
		expect(
			sessionSentence(real, makeSummary({ guided, rounds: drops(38, 36, 33), peakBpm: 180, fade: noChange }))
		).toBe('Recovery speed 41 ± 6 s; shorter is faster. Drops 38, 36, 33: no clear change.');
	});

	it('says what is missing where nothing was measured', () => {
		expect(sessionSentence(real, makeSummary())).toBe(
			'Nothing was measured: it ended before the first round.'
		);
		expect(sessionSentence(real, makeSummary({ rounds: drops(undefined) }))).toBe(
			'Nothing was measured: no reading came in.'
		);
		expect(sessionSentence(real, makeSummary({ rounds: drops(undefined), peakBpm: 170 }))).toBe(
			'No drop: no rest of a full minute with a clean signal.'
		);
	});

	it('says of a simulated session that it is one', () => {
		const summary = makeSummary({ rounds: drops(36), peakBpm: 180 });
		expect(sessionSentence({ practice: true }, summary)).toBe(
			'Drop 36. Simulated: it stays out of progress.'
		);
		expect(sessionSentence({ practice: true, example: true }, summary)).toBe(
			'Drop 36. Simulated: an invented athlete.'
		);
	});
});

describe('what the drops come to together', () => {
	it('is their mean and the change from round to round, never finer than the error', () => {
		expect(dropsTogether({ meanDrop60: 42.4, fade: noChange }, 'mean of 3 judged rests')).toBe(
			'Mean drop 42 (mean of 3 judged rests). Round by round −6 ± 4 beats: no clear change.'
		);
		expect(dropsTogether({ meanDrop60: 42.4 }, 'mean of 1 judged rest')).toBe(
			'Mean drop 42 (mean of 1 judged rest).'
		);
		expect(dropsTogether({}, '')).toBe('');
	});

	it('has the sign of the change, and none where it is nothing in whole beats', () => {
		const told = (slopeBpm: number) =>
			dropsTogether({ meanDrop60: 42, fade: { ...noChange, slopeBpm } }, 'x');
		expect(told(5.6)).toBe('Mean drop 42 (x). Round by round +6 ± 4 beats: no clear change.');
		for (const slope of [0, 0.4, -0.4])
			expect(told(slope)).toBe('Mean drop 42 (x). Round by round 0 ± 4 beats: no clear change.');
	});

	it('says of which activity it is where there were several', () => {
		const rounds = [
			{ ...makeRound(1, 40), activity: 'pads' as const },
			{ ...makeRound(2, 30), activity: 'bag' as const },
			{ ...makeRound(3, 32), activity: 'bag' as const }
		];
		expect(dropsTogether({ meanDrop60: 31, rounds }, 'mean of 2 judged rests')).toBe(
			'Mean drop 31 (mean of 2 judged rests, bag alone).'
		);
		const one = rounds.slice(1);
		expect(dropsTogether({ meanDrop60: 31, rounds: one }, 'mean of 2 judged rests')).toBe(
			'Mean drop 31 (mean of 2 judged rests).'
		);
	});
});

describe('why no rest was judged', () => {
	const rest = (round: number, reason?: string) => {
		const made = makeRound(round, 20, 'not judged');
		return { ...made, rest: { ...made.rest!, ...(reason && { reason }) } };
	};

	it('is said once where it is one reason for all of several', () => {
		expect(sharedReason([rest(1, 'Too easy.'), rest(2, 'Too easy.')])).toBe('Too easy.');
		const left = { rest: undefined };
		expect(sharedReason([rest(1, 'Too easy.'), rest(2, 'Too easy.'), left])).toBe('Too easy.');
	});

	it('is left to the rests where they differ, or where there is one alone', () => {
		expect(sharedReason([rest(1, 'Too easy.'), rest(2, 'Paused.')])).toBeUndefined();
		expect(sharedReason([rest(1, 'Too easy.'), rest(2)])).toBeUndefined();
		expect(sharedReason([rest(1, 'Too easy.')])).toBeUndefined();
		expect(sharedReason([rest(1, 'Too easy.'), { rest: undefined }])).toBeUndefined();
		expect(sharedReason([])).toBeUndefined();
	});
});
