import { seededRandom } from '$lib/gatt/random';

/** A seeded source of the choices that hostile input is made of. */
export interface Chance {
	/** Even between 0 and 1, 1 left out. */
	uniform(): number;
	/** A whole number from 0 to below `count`. */
	below(count: number): number;
	pick<T>(list: readonly T[]): T;
}

export function chanceOf(seed: number): Chance {
	const { uniform } = seededRandom(seed);
	const below = (count: number) => Math.floor(uniform() * count);
	return { uniform, below, pick: (list) => list[below(list.length)]! };
}
