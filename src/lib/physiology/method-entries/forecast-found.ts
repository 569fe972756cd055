/** What was found of the forecast in one family of rests, at seconds 20, 30 and 45. A test finds it again. */
export interface ForecastFound {
	family: string;
	rests: number;
	/** Rests in which the range was narrow enough to be shown. */
	shown: readonly number[];
	/** Those of them whose drop fell inside it. */
	held: readonly number[];
	/** Median distance of the range's middle from the drop, shown or not, beats. */
	medianErrorBpm: readonly number[];
}

export const forecastSeconds = [20, 30, 45] as const;

export const forecastFound: readonly ForecastFound[] = [
	{
		family: 'one exponential',
		rests: 200,
		shown: [80, 199, 200],
		held: [76, 177, 179],
		medianErrorBpm: [4.5, 2.7, 1]
	},
	{
		family: 'two exponentials',
		rests: 200,
		shown: [64, 189, 200],
		held: [61, 168, 180],
		medianErrorBpm: [5.9, 3.2, 1.1]
	},
	{
		family: 'fast recoverers',
		rests: 200,
		shown: [41, 180, 200],
		held: [33, 152, 175],
		medianErrorBpm: [11.2, 3.4, 1.1]
	},
	{
		family: 'no exponential',
		rests: 200,
		shown: [65, 189, 200],
		held: [58, 168, 177],
		medianErrorBpm: [5, 2.7, 1.1]
	},
	{
		family: 'recorded recoveries',
		rests: 21,
		shown: [1, 19, 21],
		held: [1, 17, 17],
		medianErrorBpm: [6.7, 4.3, 2]
	}
];

/** The same in words. */
export function forecastFoundWords({ family, rests, shown, held, medianErrorBpm }: ForecastFound): string {
	const counts = held.map((count, i) => `${count} of ${shown[i]}`).join(', ');
	return `${family} (${rests}): ${counts}; middle off by ${medianErrorBpm.join(', ')} beats`;
}
