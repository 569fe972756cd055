// The five equal fifths of a normal distribution, each by its middle.
const middlesOfFifths = [-1.2816, -0.5244, 0, 0.5244, 1.2816];
const lowestBpm = -210;
const binBpm = 0.25;
const binCount = 1680;
/** What counts less than this beside the best, is left out. */
const leastWeight = 1e-6;

/** Drops that may come, each a normal distribution with a weight. Own rule. */
export class WeighedDrops {
	readonly #means: Float64Array;
	readonly #variances: Float64Array;
	readonly #logWeights: Float64Array;
	#count = 0;

	/** @param most how many will come, at most */
	constructor(most: number) {
		this.#means = new Float64Array(most);
		this.#variances = new Float64Array(most);
		this.#logWeights = new Float64Array(most);
	}

	/** Takes one drop: its mean and variance, bpm, and the logarithm of its weight without a common constant. */
	push(mean: number, variance: number, logWeight: number): void {
		this.#means[this.#count] = mean;
		this.#variances[this.#count] = variance;
		this.#logWeights[this.#count++] = logWeight;
	}

	/**
	 * The drops below which these shares of the whole weight lie, to about a tenth of a beat.
	 *
	 * @param shares above 0 and below 1, rising
	 * @example drops.quantiles([0.1, 0.5, 0.9]) // 36, 41, 47
	 */
	quantiles(shares: readonly number[]): number[] {
		let best = -Infinity;
		for (let i = 0; i < this.#count; i++) best = Math.max(best, this.#logWeights[i]!);
		const leastLog = best + Math.log(leastWeight);
		const bins = new Float64Array(binCount);
		let whole = 0;
		for (let i = 0; i < this.#count; i++) {
			if (this.#logWeights[i]! < leastLog) continue;
			const mean = this.#means[i]!;
			const weight = Math.exp(this.#logWeights[i]! - best);
			whole += weight;
			const sd = Math.sqrt(this.#variances[i]!);
			for (const middle of middlesOfFifths) {
				const bin = Math.floor((mean + middle * sd - lowestBpm) / binBpm);
				bins[Math.min(binCount - 1, Math.max(0, bin))]! += weight / middlesOfFifths.length;
			}
		}
		let bin = 0;
		let below = 0;
		return shares.map((share) => {
			while (bin < binCount - 1 && below + bins[bin]! < share * whole) below += bins[bin++]!;
			return lowestBpm + binBpm * (bin + (share * whole - below) / bins[bin]!);
		});
	}
}
