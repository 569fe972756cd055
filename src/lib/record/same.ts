/** JSON with the members of every object in one order, so that equal values are equal texts. */
export function textOf(value: unknown): string {
	return (
		JSON.stringify(value, (_, member: unknown) =>
			typeof member === 'object' && member !== null && !Array.isArray(member)
				? Object.fromEntries(Object.entries(member).sort(([one], [other]) => (one < other ? -1 : 1)))
				: member
		) ?? ''
	);
}

export const isSame = (one: unknown, other: unknown) => textOf(one) === textOf(other);
