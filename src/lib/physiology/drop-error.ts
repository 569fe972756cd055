// Standard error of the fall over 60 s, about 20 % (Bosquet, Gamelin, Berthoin, Int J Sports Med
// 2008;29:238-43; coefficient of variation 15 to 32 % in Al Haddad et al., Int J Sports Med 2011;32:598-605).
const typicalErrorShare = 0.2;
// Own rule: a heart that hardly falls is not measured exactly for that.
const leastErrorBpm = 2;
const smallDropBpm = leastErrorBpm / typicalErrorShare;
// Own rule: half of the error's variance lies between days, half between the rests of one day.
const restVariance = 0.5;
// 1.96 x sqrt 2: the difference of two measurements, each with its own error.
const errorsApart = 2.8;

/**
 * Standard error of one drop at 60 between days, in bpm: 20 % of it (Bosquet, Gamelin, Berthoin, Int J Sports
 * Med 2008;29:238-43), at least 2 (own rule).
 *
 * @example typicalErrorOf(50) // 10
 */
export function typicalErrorOf(drop60: number): number {
	return Math.max(leastErrorBpm, Math.abs(drop60) * typicalErrorShare);
}

/**
 * What of that error lies between the rests of one day, in bpm: half of the variance (own rule), so 14 % of the
 * drop.
 *
 * @example restErrorOf(50) // 7.07
 */
export function restErrorOf(drop60: number): number {
	return typicalErrorOf(drop60) * Math.sqrt(restVariance);
}

/**
 * Are these drops all so small, up or down, that their error stands at its floor (10 beats or less)? Then they are
 * not told apart (own rule).
 *
 * @example areSmall([-6, 6]) // true
 */
export function areSmall(drops: readonly number[]): boolean {
	return drops.every((drop) => Math.abs(drop) <= smallDropBpm);
}

/**
 * Do two single drops at 60 differ by more than their error explains? Only beyond 2.8 typical errors (1.96
 * times the root of 2, 95 %) of their mean, and never where both are small; otherwise compare means over
 * sessions.
 *
 * @example doDropsDiffer(30, 55) // true: 25 bpm apart, 2.8 errors are 23.8
 */
export function doDropsDiffer(drop60: number, other60: number): boolean {
	if (areSmall([drop60, other60])) return false;
	return Math.abs(drop60 - other60) > errorsApart * typicalErrorOf((drop60 + other60) / 2);
}
