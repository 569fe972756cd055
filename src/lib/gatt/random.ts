/** A source of chance that gives the same numbers for the same seed, so that a simulation can be repeated. */
interface Random {
	/** Even between 0 and 1, 1 left out. */
	uniform(): number;
	/** Normal, mean 0, standard deviation 1. */
	normal(): number;
}

/** Marsaglia's 32-bit xorshift (J Stat Softw 2003;8(14)), with Box and Muller's normal numbers (1958). */
export function seededRandom(seed: number): Random {
	// Its state must not be zero; the multiplier (2^32 by the golden ratio) sets neighbouring seeds far apart.
	let state = Math.imul(seed | 0, 0x9e3779b1) ^ 0x5bd1e995 || 1;
	function uniform(): number {
		state ^= state << 13;
		state ^= state >>> 17;
		state ^= state << 5;
		return (state >>> 0) / 2 ** 32;
	}
	return {
		uniform,
		normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
	};
}
