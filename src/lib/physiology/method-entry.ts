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
	/** Citations; 'Common practice, no source' and 'Own rule' stand where a rule has none. */
	sources: readonly string[];
	/** What it cannot tell, and cautions. */
	limits?: string;
}
