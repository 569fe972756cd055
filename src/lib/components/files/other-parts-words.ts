import type { BackupPart } from '$lib/store/backup/form';

/** Which parts of a backup are still to be chosen, given those that are here now (one at least), in a sentence. */
export function otherPartsWords(here: readonly BackupPart[]): string {
	const numbers = new Set(here.map(({ number }) => number));
	const last = here.find(({ isLast }) => isLast)?.number;
	const highest = last ?? Math.max(...numbers);
	const missing = spans(highest, (number) => !numbers.has(number));
	if (missing.length === 0)
		return last === undefined
			? `There are more parts of this backup. Choose part ${highest + 1}, too.`
			: `All ${last} parts of this backup are here now.`;
	if (last === undefined) missing.push(`those after part ${highest}`);
	return `There are more parts of this backup. Choose ${inWords.format(missing)}, too, unless you have done so before.`;
}

const inWords = new Intl.ListFormat('en');

/** The numbers from 1 on that are wanted, each run of them in words. */
function spans(highest: number, isWanted: (number: number) => boolean): string[] {
	const words: string[] = [];
	for (let from = 1; from <= highest; from++) {
		if (!isWanted(from)) continue;
		let to = from;
		while (to < highest && isWanted(to + 1)) to++;
		words.push(from === to ? `part ${from}` : `parts ${from} ${to === from + 1 ? 'and' : 'to'} ${to}`);
		from = to;
	}
	return words;
}
