import { smallFallAdvice } from '$lib/physiology/advice';
import { judgedAtS } from '$lib/physiology/rest-taken';
import type { RestView } from './live-rest';
import { beats, verdictWords } from '$lib/review/words';

/**
 * What is said of a rest to an athlete who does not see the screen: short enough for one breath. Undefined
 * before second 60, and where there is no drop to say.
 *
 * @example spokenDrop(rest) // "Down 38. Rate 131. Slower than gyms look for."
 */
export function spokenDrop({
	atS,
	measure,
	isVerySmallFall
}: Pick<RestView, 'atS' | 'measure' | 'isVerySmallFall'>): string | undefined {
	if (atS < judgedAtS || measure.drop60 === undefined) return undefined;
	const drop = beats(measure.drop60);
	const way = drop < 0 ? `Up ${-drop}.` : `Down ${drop}.`;
	const rate = measure.rate60 === undefined ? '' : ` Rate ${beats(measure.rate60)}.`;
	if (isVerySmallFall) return `${way}${rate} ${smallFallAdvice}`;
	const verdict = verdictWords(measure);
	return `${way}${rate} ${verdict.charAt(0).toUpperCase()}${verdict.slice(1)}.`;
}
