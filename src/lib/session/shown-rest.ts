import { judgedAtS } from '$lib/physiology/rest-taken';
import { briefVerdict, verdictWords } from '$lib/review/words';
import type { RestView } from './live-rest';
import type { CornerView } from './live-view';

/** What a live screen shows of a corner's rests. */
export interface ShownRest {
	/** With its verdict and advice: the rest that runs, or the one just over, for half a minute. */
	judged?: RestView;
	/** That of the same rest; before it of the last one there was, for its figure stays until the next. */
	measure?: RestView['measure'];
	/** The drop so far while the rest runs, the drop at 60 once there is one, bpm. */
	drop?: number;
	/** Of `judged`, once second 60 is past. */
	verdict?: string;
	/** The same for narrow places. */
	brief?: string;
}

export function shownRestOf(corner: Pick<CornerView, 'rest' | 'lastRest' | 'rounds'>): ShownRest {
	const judged = corner.rest ?? corner.lastRest;
	const measure = (judged ?? corner.rounds.findLast(({ rest }) => rest)?.rest)?.measure;
	const isJudged = judged !== undefined && judged.atS >= judgedAtS;
	return {
		judged,
		measure,
		drop: measure?.drop60 ?? measure?.restDrop,
		verdict: isJudged ? verdictWords(judged.measure) : undefined,
		brief: isJudged ? briefVerdict(judged.measure) : undefined
	};
}
