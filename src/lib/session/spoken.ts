import { judgedAtS } from '$lib/physiology/rest-taken';
import type { RestView } from './live-rest';
import { beats, verdictWords } from '$lib/review/words';

/**
 * What is said of a rest to an athlete who does not see the screen: short enough for one breath. Undefined
 * before second 60, and where there is no drop to say.
 *
 * @example spokenDrop(rest) // "Down 38. Rate 131. Under the band."
 */
export function spokenDrop({ atS, measure }: Pick<RestView, 'atS' | 'measure'>): string | undefined {
	if (atS < judgedAtS || measure.drop60 === undefined) return undefined;
	const drop = beats(measure.drop60);
	const way = drop < 0 ? `Up ${-drop}.` : `Down ${drop}.`;
	const rate = measure.rate60 === undefined ? '' : ` Rate ${beats(measure.rate60)}.`;
	const verdict = verdictWords(measure);
	return `${way}${rate} ${verdict.charAt(0).toUpperCase()}${verdict.slice(1)}.`;
}
