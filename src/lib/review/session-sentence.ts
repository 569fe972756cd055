import type { RecordHead } from '$lib/record/head';
import type { GuidedSummary, RoundSummary, Summary } from '$lib/record/summary';
import type { RunResult } from './guided-summary';
import { fadeOf } from '$lib/physiology/fade';
import { byActivity, chiefWork, countingRests } from './drops-by-activity';
import { beats } from './beats';
import { dropWords } from './words';
import { clockWords } from './clock-words';

/** More drops than these are told by their ends. */
const mostListed = 12;

type Head = Pick<RecordHead, 'practice' | 'example'>;
type Measured = Pick<Summary, 'rounds' | 'fade' | 'overS' | 'workS' | 'peakBpm' | 'guided'>;

/**
 * What a session came to, in a plain sentence or two, for the top of its review and of its report.
 *
 * @param run the result of a threshold run, with the answers taken into account
 * @example sessionSentence(head, summary) // 'Drops 49, 41, 37: no clear change. 7:01 of 9:00 over threshold.'
 */
export function sessionSentence(head: Head, summary: Measured, run?: RunResult): string {
	const { guided, overS, workS } = summary;
	const over =
		overS === undefined ? [] : [`${clockWords(overS * 1000)} of ${clockWords(workS * 1000)} over threshold.`];
	const said =
		guided?.kind === 'threshold run'
			? [runSentence(run ?? {}, guided)]
			: guided?.kind === 'resting'
				? [restingSentence(guided)]
				: guided
					? [recoverySentence(guided), dropsSentence(summary), ...over]
					: [dropsSentence(summary), ...over];
	return [...said, ...simulatedSentence(head)].join(' ');
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
const small = (words: string) => words.charAt(0).toLowerCase() + words.slice(1);
const fadeOfRounds = (rounds: readonly RoundSummary[]) =>
	fadeOf(
		rounds.flatMap(({ round, rest }) => (rest ? { round, drop60: rest.drop60, verdict: rest.verdict } : []))
	);

function dropsSentence({
	rounds,
	fade,
	peakBpm
}: Pick<Measured, 'fade' | 'peakBpm'> & { rounds: readonly RoundSummary[] }): string {
	if (rounds.length === 0) return 'Nothing was measured: it ended before the first round.';
	const groups = byActivity(rounds);
	if (groups.length > 1) {
		const said = groups.flatMap(({ activity = '', rounds: same }) =>
			countingRests(same).length === 0
				? []
				: `${capital(activity)}: ${small(dropsSentence({ rounds: same, fade: fadeOfRounds(same), peakBpm }))}`
		);
		if (said.length > 0) return said.join(' ');
	}
	const rests = rounds.flatMap(({ rest }) => (rest?.drop60 === undefined ? [] : [rest]));
	const drops = rests.map(({ drop60 = NaN }) => drop60);
	if (drops.length === 0)
		return peakBpm === undefined
			? 'Nothing was measured: no reading came in.'
			: 'No drop: no rest of a full minute with a clean signal.';
	const list =
		drops.length > mostListed
			? `${drops.length} drops from ${dropWords(Math.min(...drops))} to ${dropWords(Math.max(...drops))}`
			: `${drops.length === 1 ? 'Drop' : 'Drops'} ${drops.map(dropWords).join(', ')}`;
	if (fade) return `${list}: ${fade.trend}.`;
	return rests.every(({ verdict }) => verdict === 'not judged') ? `${list}, not judged.` : `${list}.`;
}

function runSentence({ meanBpm, bpm, confidence }: Partial<RunResult>, { reasons }: GuidedSummary): string {
	if (meanBpm === undefined || bpm === undefined)
		return `No threshold from this run. ${reasons[0] ?? ''}`.trim();
	return `Mean of the 20 minutes ${beats(meanBpm)}; less 5 % ${beats(bpm)}. Confidence: ${confidence}.`;
}

function restingSentence({ restBpm, posture, reasons }: GuidedSummary): string {
	if (restBpm === undefined) return `No resting rate. ${reasons[0] ?? ''}`.trim();
	return `Resting rate ${beats(restBpm)}: the lowest minute${posture ? `, ${posture}` : ''}.`;
}

function recoverySentence({ tauS, tauErrorS, reasons }: GuidedSummary): string {
	if (tauS === undefined) return `No recovery speed. ${reasons[0] ?? ''}`.trim();
	const error = tauErrorS === undefined ? '' : ` ± ${Math.ceil(tauErrorS)}`;
	return `Recovery speed ${Math.round(tauS)}${error} s; shorter is faster.`;
}

const simulatedSentence = ({ practice, example }: Head): string[] =>
	!practice ? [] : [example ? 'Simulated: an invented athlete.' : 'Simulated: it stays out of progress.'];

/**
 * What the drops come to together, beside the table: their mean, and what changes from round to round, in whole beats.
 *
 * @example dropsTogether(summary) // 'Mean drop 41 (mean of 4 judged rests). Round by round −4 ± 3 beats: no clear change.'
 */
export function dropsTogether(
	{ meanDrop60, fade, rounds = [] }: Pick<Summary, 'meanDrop60' | 'fade'> & Partial<Pick<Summary, 'rounds'>>,
	meanOf: string
): string {
	if (meanDrop60 === undefined) return '';
	const { activity } = chiefWork(rounds);
	const of = activity && byActivity(rounds).length > 1 ? `, ${activity} alone` : '';
	const mean = `Mean drop ${beats(meanDrop60)} (${meanOf}${of}).`;
	if (!fade) return mean;
	const slope = beats(fade.slopeBpm);
	const sign = slope > 0 ? '+' : slope < 0 ? '−' : '';
	return `${mean} Round by round ${sign}${Math.abs(slope)} ± ${Math.ceil(fade.slopeErrorBpm)} beats: ${fade.trend}.`;
}

/** Why no rest was judged, where it is one reason for all of several: then it is said once. */
export function sharedReason(rounds: readonly Pick<RoundSummary, 'rest'>[]): string | undefined {
	const rests = rounds.flatMap(({ rest }) => rest ?? []);
	const [first] = rests;
	return rests.length > 1 && rests.every(({ reason }) => reason === first?.reason)
		? first?.reason
		: undefined;
}
