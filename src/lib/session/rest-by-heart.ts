import { longestHoldMs } from '$lib/physiology/grid';
import { windowS } from '$lib/physiology/rest-taken';
import { heartFromMs } from '$lib/rounds/rest-by-heart';
import { ranMs, type Phase } from '$lib/rounds/timeline';
import type { RestView } from './live-rest';

/** Why a corner is not waited for. */
export type LeftOut = 'no threshold' | 'no beat since the bell';

/** How one corner stands to the share in a rest by heart. */
export interface HeartInRest {
	name: string;
	/** The rate to come down to, bpm, unrounded; absent where the corner is left out. */
	targetBpm?: number;
	/** Mean of the last five seconds, bpm; absent where there is none at this moment. */
	bpm?: number;
	leftOut?: LeftOut;
}

/** A rest by heart at one moment. */
export interface RestByHeart {
	percent: number;
	hearts: HeartInRest[];
	/** Every heart that is waited for has come down, and there is one: the rest may end. */
	isDown: boolean;
	/** What decides when it ends: nobody's heart can be waited for, or somebody has made the rest longer. */
	settled?: Phase['settled'] | 'nobody to wait for';
}

interface Corner {
	name: string;
	thresholdBpm?: number;
	rest?: RestView;
}

/**
 * How the corners stand in a rest by heart, or undefined outside of one. All must be down at once, by the mean of
 * their last five seconds, so that one stray beat ends nothing. A corner without a threshold, or without a beat since
 * the bell, is left out; one whose signal was lost on the way down is waited for. Where all are left out the longest
 * rest decides (own rule throughout).
 *
 * @param percent the plan's share of the threshold
 * @param corners those who are there now
 */
export function restByHeart(
	percent: number | undefined,
	phase: Phase | undefined,
	elapsedMs: number,
	corners: readonly Corner[]
): RestByHeart | undefined {
	if (percent === undefined || phase?.kind !== 'rest') return undefined;
	const hearts = corners.map((corner) => heartOf(percent, corner));
	const awaited = hearts.filter(({ leftOut }) => leftOut === undefined);
	return {
		percent,
		hearts,
		isDown: awaited.length > 0 && ranMs(phase, elapsedMs) >= heartFromMs && awaited.every(isHeartDown),
		settled: phase.settled ?? (awaited.length === 0 ? 'nobody to wait for' : undefined)
	};
}

/** Whether a heart has come down to its share. */
export function isHeartDown({ bpm, targetBpm }: HeartInRest): boolean {
	return bpm !== undefined && targetBpm !== undefined && bpm <= targetBpm;
}

function heartOf(percent: number, { name, thresholdBpm, rest }: Corner): HeartInRest {
	if (thresholdBpm === undefined) return { name, leftOut: 'no threshold' };
	if (rest && !hasBeatSinceBell(rest)) return { name, leftOut: 'no beat since the bell' };
	return { name, targetBpm: (thresholdBpm * percent) / 100, bpm: rest?.recentBpm };
}

/** A beat from before the bell stands for two seconds after it, and is none since. */
const heldS = longestHoldMs / 1000;
/** From here on the mean of the last five seconds knows only beats since the bell. */
const ownBeatsS = heldS + windowS;

function hasBeatSinceBell({ atS, recentBpm, points }: RestView): boolean {
	if (atS < ownBeatsS || recentBpm !== undefined) return true;
	return points.some(({ s, bpm }) => s > heldS && bpm !== null);
}

const list = (parts: readonly string[]) => new Intl.ListFormat('en').format(parts);

/** A rest by heart in a sentence or two: when the bell comes, who is waited for, and who is not and why. */
export function restByHeartWords(rest: RestByHeart): string {
	const { percent, hearts, settled } = rest;
	const several = hearts.length > 1;
	if (settled === 'by hand') return 'Rest until recovered: made longer by hand, so it lasts as long as that.';
	if (settled === 'by heart')
		return `${several ? 'All are' : 'The heart is'} down to ${percent} % of the threshold: the bell follows the whistle.`;
	const leftOut = list(
		hearts.flatMap(({ name, leftOut }) => (leftOut ? (several ? `${name} (${leftOut})` : leftOut) : []))
	);
	if (settled) return `Rest until recovered: nobody to wait for, ${leftOut}. The longest rest decides.`;
	const falling = hearts.filter((heart) => !heart.leftOut && !isHeartDown(heart));
	const others = leftOut ? ` Not waited for: ${leftOut}.` : '';
	if (falling.length === 0) {
		const when = rest.isDown ? 'with the longest rest' : 'after 30 seconds';
		return `Rest until recovered: down; the bell comes ${when}.${others}`;
	}
	const gaps = falling.map(({ name, bpm, targetBpm = 0 }) => {
		const now = bpm === undefined ? 'no signal' : `${Math.round(bpm)}`;
		return several
			? `${name} (${now}, down to ${Math.floor(targetBpm)})`
			: `${now} over five seconds; the whistle blows at ${Math.floor(targetBpm)}, ${percent} % of the threshold`;
	});
	return `Rest until recovered: ${several ? 'waiting for ' : ''}${list(gaps)}.${others}`;
}
