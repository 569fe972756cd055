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

/** One of some, each as often as its weight says. */
export function byWeight<T>(chance: Chance, some: readonly (readonly [weight: number, one: T])[]): T {
	let at = chance.uniform() * some.reduce((sum, [weight]) => sum + weight, 0);
	for (const [weight, one] of some) if ((at -= weight) < 0) return one;
	return some.at(-1)![1];
}
