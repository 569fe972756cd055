// Where the words of the page come from. On a screen they come from here and from the other files of words in this room,
// or stand in the component that shows them.
// - round, rest, bell, corner, clapper, whistle, bout formats: trade; the rules named in rounds/formats.ts, bell/cues.ts.
// - bag, pads, sparring, shadow boxing, warm-up, cool-down, register, board, boxer, group: trade.
// - athlete, session, strap: trade of coaching; "pair", heart rate, RR intervals, skin contact: the Bluetooth specification.
// - threshold, maximum, reserve, resting rate, training load: sports science; each entry of Methods names its paper.
// - energy availability, resting expenditure, fat-free mass: nutrition science, as cited in Methods.
// - effort, 0 to 10: own word; the scale is the session rating of Foster et al. 2001.
// - sameness of days, load x sameness: own words for Foster's monotony and strain (1998), named in the caption.
// - recovery speed, beat-to-beat change, bad beats: own, plain, for tau, RMSSD and artefacts, named on the method's page.
// - 1-minute drop: trade for heart-rate recovery; at the bell, after 1 min: own, the two ends of a drop.
// - above the bell: own. A rate that has risen since the bell is no drop.
// - in, under, over the band; too close to call; not judged: own, for the trade's 40 to 60 beats; never of a person.
// - easy, working, near threshold, over threshold; closing burst; the last minute; pulse (the sound): own.
// - threshold run, recovery check, resting measurement, simulated strap, example gym: own, what they are.
// - effort owed, known and unknown days, same training?: own. What somebody has yet to say of a day.

import { beats } from './beats';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { PlanKind } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';

/**
 * What the clock is doing, in the gym's words.
 *
 * @param roundCount absent where the gym's own bell rings
 */
export function phaseWords(
	phase: Phase | undefined,
	roundCount: number | undefined,
	kind?: PlanKind
): string {
	if (kind === 'threshold run' && phase?.kind === 'work') return 'The 20 minutes';
	if (kind === 'resting' && phase?.kind === 'work') return 'Five quiet minutes';
	if (kind === 'recovery check' && phase?.kind === 'closing') return 'Three minutes still';
	const again = phase?.attempt && phase.attempt > 1 ? ' again' : '';
	switch (phase?.kind) {
		case 'work':
			return `Round ${phase.round}${roundCount === undefined ? '' : ` of ${roundCount}`}${again}`;
		case 'rest':
			if (phase.toBlock !== undefined) return `Pause before block ${phase.toBlock}`;
			return `Rest after round ${phase.round}`;
		case 'closing':
			return 'The last minute';
		case 'get ready':
			return roundCount === undefined ? 'Waiting for the first bell' : 'Get ready';
		case 'warm-up':
			return 'Warm-up';
		case 'cool-down':
			return 'Cool-down';
		case undefined:
			return 'Over';
	}
}

/** Where the gym's own bell rings. */
export const noBurstWords =
	"The closing burst is not counted apart: only the gym's own bell knows when the round ends.";

/** A drop in a sentence. A rate that has risen since the bell is no negative drop: `dropWords(-4)` is "none (rose 4)". */
export function dropWords(bpm: number): string {
	const whole = beats(bpm);
	return whole < 0 ? `none (rose ${-whole})` : String(whole);
}

type Judged = Pick<RestMeasure, 'verdict' | 'nearEdge'>;

const verdicts: Record<RestMeasure['verdict'], string> = {
	'under the band': 'slower than gyms look for',
	'in the band': 'what gyms look for',
	'over the band': 'above the band',
	'not judged': 'not judged'
};

/** A verdict as the screens say it: of the rest, not of the person. */
export function verdictWords({ verdict, nearEdge }: Judged): string {
	return nearEdge ? `${verdicts[verdict]}, too close to call` : verdicts[verdict];
}

/** The same where there is room for a few words alone. */
export function briefVerdict({ verdict, nearEdge }: Judged): string {
	return nearEdge ? 'too close to call' : verdict;
}
