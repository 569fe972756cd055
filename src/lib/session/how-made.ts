import { allMethods } from '$lib/physiology/all-methods';

/** How a number was made, in a sentence and a formula, with the title of its entry on the Methods screen. */
export interface HowMade {
	id: string;
	title: string;
	plain: string;
	formula: string;
}

/** @throws where there is no such entry: a screen that names one is checked by a test. */
export function howMade(id: string): HowMade {
	const entry = allMethods.find((method) => method.id === id);
	if (!entry) throw new Error(`There is no method "${id}".`);
	return entry;
}
