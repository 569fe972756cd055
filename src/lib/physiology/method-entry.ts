/** A published source, with its authors, and how far it was read for this page. */
export interface Citation {
	text: string;
	seen: 'read in full' | 'abstract' | 'from memory';
}

/** Where a rule comes from; one that has no citation says so. */
export type Source = Citation | 'Own rule' | 'Common practice, no source';

/** One measure as the Methods screen explains it. */
export interface MethodEntry {
	/** Never changes: it is the anchor /methods/#id, and screens link to it. */
	id: string;
	title: string;
	theme:
		'rest' | 'threshold' | 'intensity' | 'energy' | 'fuel and weight' | 'load' | 'heart at rest' | 'signal';
	/** Names of the exported functions and classes that it explains; a test holds them against the modules. */
	measures: readonly string[];
	/** One to three sentences that a boxer understands. */
	plain: string;
	/** Plain text with units; lines may break. */
	formula: string;
	/** Computed by the code it explains, so that the screen cannot drift away from it. */
	example: () => { given: string; steps?: string; result: string };
	validRange: string;
	/** 'none published ...' where that is the truth. */
	error: string;
	sources: readonly Source[];
	/** What it cannot tell, and cautions. */
	limits?: string;
}

/** What a test has found of an entry against something outside the project; a script writes them. */
export interface OutsideCheck {
	entryId: string;
	/** The program, dataset or table, in words that end before the number of cases. */
	against: string;
	cases: number;
	/** 0 where nothing but rounding lies between. */
	largestDifference: number;
	unit: string;
}
