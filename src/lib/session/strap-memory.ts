import type { Athlete } from '$lib/record/athlete';

/**
 * The athletes who wore a strap of this name last and are not in another corner already. One of them is taken
 * for its wearer; where there are several somebody has to say which, because straps of one make often share a name.
 */
export function wearersOf(
	strapName: string,
	athletes: readonly Athlete[],
	elsewhere: readonly string[]
): Athlete[] {
	return athletes.filter((athlete) => athlete.strapName === strapName && !elsewhere.includes(athlete.id));
}

/** The athlete with the strap they wear now; undefined where that is known already, or nothing to remember. */
export function withStrap(
	athlete: Athlete,
	strap: { strapName: string; practice: boolean } | undefined
): Athlete | undefined {
	if (!strap || strap.practice || athlete.strapName === strap.strapName) return undefined;
	return { ...athlete, strapName: strap.strapName };
}
