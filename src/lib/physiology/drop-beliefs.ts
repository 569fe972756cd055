import type { RestMeasure } from './recovery';

/** As much of a rest as others learn from. */
export type EarlierRest = Pick<RestMeasure, 'bellBpm' | 'drop60'>;

/** What is known before the rest begins. */
export interface ForecastPrior {
	/** The athlete's earlier rests of this session. */
	earlier?: readonly EarlierRest[];
	/** Those of like sessions before it. */
	otherSessions?: readonly EarlierRest[];
}

// What is believed of a drop and of a whole fall before the first reading (own rule): wide enough for falls from a few
// beats to 80. Means of athletes after a treadmill maximum are 22 to 30, with spreads of 11 to 16 (Suzic Lazic et al.,
// Clin Physiol Funct Imaging 2017;37:117-123); gyms look for 40 to 60.
const usualDrop = { mean: 38, sd: 22 };
const usualFall = { mean: 68, sd: 50 };

// An earlier rest tells of this one where its bell rate was about the same. Two drops of one athlete lie 20 % apart by
// themselves (Bosquet 2008, see `recovery`); two rests in five are
// believed to be like anybody's, because a rest that is unlike the others matters most.
const likeBellBpm = 15;
const restToRestShare = 0.2;
const leastRestToRestBpm = 4;
const unlikeShare = 0.4;

/** A mean and a variance of something, and how likely it is that they are the right ones. */
export interface Belief {
	mean: number;
	variance: number;
	logWeight: number;
}

/**
 * What is believed of the drop: that of anybody, or mostly that of this athlete. Half of the variance lies between
 * days (own rule, see `restErrorOf`), so the mean of all other sessions tells no more of this rest than one rest of the
 * same session does.
 */
export function beliefsOf({ earlier = [], otherSessions = [] }: ForecastPrior, bellBpm: number): Belief[] {
	const anybody = { mean: usualDrop.mean, variance: usualDrop.sd ** 2 };
	const before = likeDrops(otherSessions, bellBpm);
	const today = likeDrops(earlier, bellBpm);
	const drops = before.length > 0 ? [meanOf(before), ...today] : today;
	if (drops.length === 0) return [{ ...anybody, logWeight: 0 }];
	const mean = meanOf(drops);
	const spread = Math.max(spreadOf(before), spreadOf(drops));
	const ofOneRest = Math.max(leastRestToRestBpm, restToRestShare * Math.abs(mean), spread) ** 2;
	const precision = 1 / anybody.variance + drops.length / ofOneRest;
	const own = {
		mean: (anybody.mean / anybody.variance + (mean * drops.length) / ofOneRest) / precision,
		variance: 1 / precision + ofOneRest
	};
	return [
		{ ...own, logWeight: Math.log(1 - unlikeShare) },
		{ ...anybody, logWeight: Math.log(unlikeShare) }
	];
}

const likeDrops = (rests: readonly EarlierRest[], bellBpm: number): number[] =>
	rests.flatMap((rest) => {
		const isLike = rest.bellBpm !== undefined && Math.abs(rest.bellBpm - bellBpm) <= likeBellBpm;
		return isLike && rest.drop60 !== undefined ? rest.drop60 : [];
	});

const meanOf = (drops: readonly number[]) => drops.reduce((sum, drop) => sum + drop, 0) / drops.length;

/** Zero of none. */
function spreadOf(drops: readonly number[]): number {
	if (drops.length === 0) return 0;
	const mean = meanOf(drops);
	return Math.sqrt(meanOf(drops.map((drop) => (drop - mean) ** 2)));
}

/** A belief of the drop, joined with what is believed of the whole fall, of which the drop is a known share. */
export function withUsualFall(belief: Belief, share60: number) {
	const fall = { mean: usualFall.mean * share60, variance: (usualFall.sd * share60) ** 2 };
	const precision = 1 / belief.variance + 1 / fall.variance;
	const both = belief.variance + fall.variance;
	return {
		mean: (belief.mean / belief.variance + fall.mean / fall.variance) / precision,
		precision,
		logWeight:
			belief.logWeight + (Math.log(precision) - Math.log(both) - (belief.mean - fall.mean) ** 2 / both) / 2
	};
}
