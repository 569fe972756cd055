import type { BaseIssue } from 'valibot';

// What was found may be megabytes; enough of it to know it again.
const longestQuote = 60;

const kinds: Record<string, string> = {
	number: 'a number',
	string: 'a text',
	boolean: 'true or false',
	Object: 'a group of named values',
	Array: 'a list',
	undefined: 'nothing'
};
const limits: Record<string, string> = {
	integer: 'a whole number',
	finite: 'a number with an end',
	iso_timestamp: 'a date and time such as 2026-03-01T18:30:00.000Z',
	iso_date: 'a date such as 2026-03-01'
};

/**
 * What a schema found wrong, as the end of a sentence for people, without its full stop. Our own messages stay as
 * they are; those of the library name types and operators of the program.
 */
export function plainIssue({ type, expected, received, message }: BaseIssue<unknown>): string {
	if (!message.startsWith('Invalid ')) return message;
	if (type.endsWith('object') && received === 'undefined') return 'it is missing';
	const found =
		kinds[received] ?? (received.length > longestQuote ? `${received.slice(0, longestQuote)}…` : received);
	const size = /^([<>])=(.*)$/.exec(expected ?? '');
	if (size) {
		const bound = `${size[1] === '<' ? 'at most' : 'at least'} ${size[2]}`;
		return type.endsWith('_length')
			? `its length should be ${bound}, not ${found}`
			: `it should be ${bound}, not ${found}`;
	}
	const due = limits[type] ?? kinds[expected ?? ''] ?? (expected ? oneOf(expected) : 'something else');
	return `it should be ${due}, not ${found}`;
}

function oneOf(expected: string): string {
	const choices = expected.replace(/^\((.*)\)$/, '$1').split(' | ');
	if (choices.length > 1) return `one of ${choices.map((choice) => kinds[choice] ?? choice).join(', ')}`;
	return /^Uint\d+Array$/.test(expected) ? 'a column of numbers' : expected;
}
