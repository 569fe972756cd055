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

/**
 * A number from 0 to 2^32 - 1 by which different texts differ, most likely, and equal ones never: FNV-1a, 32 bits
 * (draft-eastlake-fnv), over code points.
 */
export function hashOfText(text: string): number {
	let hash = 0x811c9dc5;
	for (const sign of text) hash = Math.imul(hash ^ sign.codePointAt(0)!, 0x01000193) >>> 0;
	return hash;
}

/** The same of any value that JSON can tell. */
export const hashOf = (value: unknown) => hashOfText(textOf(value));

export const isSame = (one: unknown, other: unknown) => textOf(one) === textOf(other);
