import { rangeOfBand, rangeOfShare, type RateRange } from '$lib/physiology/aim';
import type { AthleteSnapshot } from '$lib/record/head';
import { aimWords, type Aim } from '$lib/rounds/aim';

type Known = Pick<AthleteSnapshot, 'thresholdBpm' | 'measuredMaxBpm'>;

/** The rates that an aim asks of an athlete; undefined where nothing measures it, and for an effort. */
export function rangeOf(
	aim: Aim | undefined,
	{ thresholdBpm, measuredMaxBpm }: Known
): RateRange | undefined {
	if (!aim) return undefined;
	switch (aim.kind) {
		case 'effort':
			return undefined;
		case 'share of maximum':
			return measuredMaxBpm === undefined
				? undefined
				: rangeOfShare(aim.fromPercent, aim.toPercent, measuredMaxBpm);
		default: {
			const band = aim.kind === 'fight pace' ? 'over threshold' : aim.kind;
			return thresholdBpm === undefined ? undefined : rangeOfBand(band, thresholdBpm);
		}
	}
}

/** Whether an aim lies at or over the threshold, so that to be over it is no fault. Near the threshold is not. */
export function mayBeOver(aim: Aim | undefined, athlete: Known): boolean {
	if (aim?.kind === 'fight pace') return true;
	const { thresholdBpm } = athlete;
	const range = aim?.kind === 'share of maximum' ? rangeOf(aim, athlete) : undefined;
	return range !== undefined && thresholdBpm !== undefined && range.highBpm >= thresholdBpm;
}

/** An aim with the rates that it means for this athlete, or with what would tell them. */
export function aimOfAthleteWords(aim: Aim, athlete: Known): string {
	const range = rangeOf(aim, athlete);
	if (range) return `${aimWords(aim)}, ${rangeWords(range)}`;
	if (aim.kind === 'effort') return aimWords(aim);
	const missing = aim.kind === 'share of maximum' ? 'no measured maximum' : 'no threshold';
	return `${aimWords(aim)} (${missing}: go by effort)`;
}

/** In whole beats, each of which is really in the range: "153 to 170", "135 and under", "171 and over". */
export function rangeWords({ lowBpm, highBpm, isLowOut, isHighOut }: RateRange): string {
	const low = isLowOut ? Math.floor(lowBpm) + 1 : Math.ceil(lowBpm);
	const high = isHighOut ? Math.ceil(highBpm) - 1 : Math.floor(highBpm);
	if (highBpm === Infinity) return `${low} and over`;
	return lowBpm <= 0 ? `${high} and under` : `${low} to ${high}`;
}
