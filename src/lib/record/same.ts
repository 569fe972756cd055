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

/** A number from 0 to 2^32 - 1 by which different values differ, most likely, and equal ones never: FNV-1a over code points. */
export function hashOf(value: unknown): number {
	let hash = 0x811c9dc5;
	for (const sign of textOf(value)) hash = Math.imul(hash ^ sign.codePointAt(0)!, 0x01000193) >>> 0;
	return hash;
}

export const isSame = (one: unknown, other: unknown) => textOf(one) === textOf(other);
