import type { Change } from './change';

/**
 * What may be said of a change, in a sentence or two for the page. Beside what was not found stands what would have
 * been.
 *
 * @param unit such as "beats"
 * @example changeSentence({ kind: 'too few', days: 2, needed: 3 }, 'beats') // 'Too few to speak of a change: ...'
 */
export function changeSentence(change: Change, unit: string): string {
	if (change.kind === 'too few') {
		const days = change.days === 1 ? 'one day' : `${change.days} days`;
		return `Too few to speak of a change: measured on ${days}, and it takes ${change.needed}.`;
	}
	const { kind, days, from, to } = change;
	const line = `from ${whole(from)} to ${whole(to)}, by the line through ${days} days`;
	return kind === 'no clear change'
		? `No clear change (${line}). ${smallestWords(change, unit)}`
		: `Clearly ${kind}: ${whole(Math.abs(to - from))} ${unit}, ${line}. That is more than the error explains.`;
}

/**
 * The same of two sessions.
 *
 * @example differenceSentence(change, 'drops', 'beats')
 */
export function differenceSentence(change: Change, name: string, unit: string): string {
	if (change.kind === 'too few') return changeSentence(change, unit);
	return change.kind === 'no clear change'
		? `The ${name} differ by no more than their error: no clear change. ${smallestWords(change, unit)}`
		: `The ${name} differ by more than their error: the second is ${change.kind}.`;
}

function smallestWords(change: { smallestRise: number; smallestFall: number }, unit: string): string {
	const [rise, fall] = [Math.ceil(change.smallestRise), Math.ceil(change.smallestFall)];
	const size = rise === fall ? `A change of ${rise}` : `A rise of ${rise} or a fall of ${fall}`;
	return `${size} ${unit} would show four times in five, a smaller one less often.`;
}

const whole = (value: number) => Math.round(value) || 0;
