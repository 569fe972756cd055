/**
 * Numbers even between 0 and 1, the same for the same seed (1 to 2147483646): the minimal standard generator of
 * Park and Miller (Commun ACM 1988;31:1192-201). Every product stays below 2^53.
 */
export function parkMiller(seed: number): () => number {
	const modulus = 2 ** 31 - 1;
	let state = (Math.abs(Math.trunc(seed)) % (modulus - 1)) + 1;
	return () => (state = (state * 16_807) % modulus) / modulus;
}
