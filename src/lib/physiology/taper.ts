export const taperDays = 14;
/** How much less is trained over a taper: the ends of the best class of the studies. */
export const taperReductions = { least: 0.41, most: 0.6 } as const;

/**
 * What share of the usual day's minutes each of the 14 days before a bout keeps: falling by the same factor from day to
 * day, so that all of them together come to 1 less the reduction. Intensity and frequency are kept.
 *
 * Error: the studies' effect was 0.72 +/- 0.36 for this volume, in endurance sports, not in boxing; that the reduction is
 * that of the whole fortnight is our reading.
 *
 * Source: Bosquet, Montpetit, Arvisais, Mujika, Med Sci Sports Exerc 2007;39:1358-65.
 *
 * @param reduction above 0 and below 1
 * @example taperShares(0.41).length // 14
 */
export function taperShares(reduction: number): number[] {
	const wanted = taperDays * (1 - reduction);
	const sharesAt = (factor: number) => Array.from({ length: taperDays }, (_, i) => factor ** (i + 1));
	const sumAt = (factor: number) => sharesAt(factor).reduce((sum, share) => sum + share, 0);
	let [low, high] = [0, 1];
	// Halving a span of 1 fifty times leaves less than the last digit.
	for (let i = 0; i < 50; i++) {
		const middle = (low + high) / 2;
		if (sumAt(middle) < wanted) low = middle;
		else high = middle;
	}
	return sharesAt(low);
}
