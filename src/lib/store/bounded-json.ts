import type { Checked } from '$lib/record/check';

// Far above what any page has written (an entry has twelve levels, a backup three around it), and far below what a browser
// takes minutes for, or ends the page over: "[" alone, 200 million times, is a file of 200 MB.
const deepest = 64;
export const mostValues = 12_000_000;
// An object of ten million different names takes the engine many minutes, and a hundred of a hundred thousand each ten
// seconds. The largest that any page writes, what is said of a card, has hundreds.
const mostMembers = 100_000;

const [quote, backslash, colon, listStart, listEnd, objectStart, objectEnd] = Array.from('"\\:[]{}', (sign) =>
	sign.charCodeAt(0)
);

/**
 * What stands in a JSON text, or a plain sentence on why it was not read. Never throws. A text that is too long, nested more
 * than 64 levels deep, or holds more than 12 million lists, objects and members, or 100,000 members in one object, is not
 * even parsed.
 *
 * @param what such a file is called: "backup"
 */
export function jsonIn(text: string, what: string, mostCharacters: number): Checked<unknown> {
	if (text.length > mostCharacters)
		return { problem: `This file is larger than any ${what} can be, so it was not read.` };
	const excess = excessIn(text);
	if (excess) return { problem: `This file ${excess} any ${what}, so it was not read.` };
	try {
		return { value: JSON.parse(text) };
	} catch {
		return { problem: 'This file is not JSON, or it was cut short. Nothing of it was read.' };
	}
}

/** What there is too much of in a JSON text, in words before what it is compared with. Looks at each character once. */
export const excessIn = (text: string): Excess | undefined => weighed(text).excess;

type Excess = 'is nested deeper than' | 'holds more values than';

/** The lists, objects and members of a JSON text, counted up to the first excess. Looks at each character once. */
export function weighed(text: string): { values: number; excess?: Excess } {
	let depth = 0;
	let values = 0;
	const members = new Uint32Array(deepest + 1);
	let isInText = false;
	for (let i = 0; i < text.length; i++) {
		const sign = text.charCodeAt(i);
		if (sign === quote) isInText = !isInText;
		else if (isInText) {
			if (sign === backslash) i++;
		} else if (sign === listStart || sign === objectStart) {
			if (++depth > deepest) return { values, excess: 'is nested deeper than' };
			members[depth] = 0;
			values++;
		} else if (sign === listEnd || sign === objectEnd) depth--;
		else if (sign === colon) {
			values++;
			if (++members[Math.max(0, depth)]! > mostMembers) return { values, excess: 'holds more values than' };
		}
		if (values > mostValues) return { values, excess: 'holds more values than' };
	}
	return { values };
}
