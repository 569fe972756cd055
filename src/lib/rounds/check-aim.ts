import { bandAims, leastSharePercent, mostEffort, mostSharePercent, type Aim } from './aim';

const isWholeIn = (value: number, least: number, most: number) =>
	Number.isSafeInteger(value) && value >= least && value <= most;

/** What keeps an aim from being used, in a plain sentence; undefined where nothing does. */
export function aimFault(aim: Aim | undefined): string | undefined {
	if (aim === undefined) return undefined;
	switch (aim?.kind) {
		case 'effort':
			return isWholeIn(aim.effort, 0, mostEffort)
				? undefined
				: `The effort must be a whole number from 0 to ${mostEffort}.`;
		case 'share of maximum': {
			const { fromPercent, toPercent } = aim;
			const areShares = [fromPercent, toPercent].every((percent) =>
				isWholeIn(percent, leastSharePercent, mostSharePercent)
			);
			if (!areShares)
				return `The share must be two whole numbers from ${leastSharePercent} to ${mostSharePercent} % of the maximum.`;
			return fromPercent < toPercent ? undefined : 'The share must go from a lower to a higher number.';
		}
		default:
			return aim && bandAims.includes(aim.kind) ? undefined : 'This aim is not known here. Choose it again.';
	}
}
