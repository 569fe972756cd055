import type { Answer } from '../answer';
import type { Seconds } from '../grid';

/** What an example is made to have; a test runs them all, so nobody reads this message. */
export function known<T>(value: T | undefined): T {
	if (value === undefined) throw new Error('An example has to have a result.');
	return value;
}

/** The value of an answer, where an example is made to have one. */
export function answered<T>(answer: Answer<T>): T {
	if (answer.reason !== undefined) throw new Error(answer.reason);
	return answer.value;
}

export const steady = (lengthS: number, bpm: number): Seconds => new Float64Array(lengthS).fill(bpm);

/** The second of the bell in `cornerMinute`. */
export const bellS = 10;

const beforeBell = [174, 174, 175, 176, 176, 177, 177, 178, 178, 179];
const climbAfterBell = [180, 180, 181, 181, 182, 182, 181, 181];

/** An invented rest: ten seconds of work, the bell, eight seconds in which the heart still climbs, and the fall. */
export const cornerMinute: Seconds = Float64Array.from({ length: bellS + 60 }, (_, i) => {
	const fallingS = i - bellS - climbAfterBell.length;
	const atStart = beforeBell[i] ?? climbAfterBell[i - bellS];
	return atStart ?? Math.round(118 + 63 * Math.exp(-fallingS / 32));
});

/** The entries of [fromS, toS) as a list for reading. */
export function listed(seconds: Seconds, fromS = 0, toS = seconds.length): string {
	return [...seconds.subarray(fromS, toS)].map((bpm) => (Number.isNaN(bpm) ? 'gap' : `${bpm}`)).join(', ');
}

/**
 * A repeatable source of normally distributed numbers, mean 0 and SD 1: the same noise on every visit. (Lehmer's
 * generator with Park and Miller's revised constants, 48271 and 2^31 - 1; Box and Muller's transform.)
 */
export function repeatableNoise(seed: number): () => number {
	let state = seed;
	const next = () => (state = (state * 48271) % 2147483647) / 2147483647;
	return () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}
