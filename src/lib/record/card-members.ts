import type { Athlete } from './athlete';

/** The card without these members. */
export function withoutMembers(athlete: Athlete, ...names: (keyof Athlete)[]): Athlete {
	const left = { ...athlete };
	for (const name of names) delete left[name];
	return left;
}

/** The card with a member, or without it where its value is undefined. */
export const withMember = <Name extends keyof Athlete>(
	athlete: Athlete,
	name: Name,
	value: Athlete[Name] | undefined
): Athlete => ({ ...withoutMembers(athlete, name), ...(value !== undefined && { [name]: value }) });
