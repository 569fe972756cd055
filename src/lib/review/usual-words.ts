import type { Usual } from '$lib/physiology/usual';

/**
 * A drop against the athlete's own usual, in whole beats.
 *
 * @example againstUsual(33, { low: 38.6, high: 44.4 }) // 'less than usual'
 */
export function againstUsual(
	drop60: number,
	{ low, high }: Pick<Usual, 'low' | 'high'>
): 'less than usual' | 'as usual' | 'more than usual' {
	const beats = Math.round(drop60);
	if (beats < Math.round(low)) return 'less than usual';
	return beats > Math.round(high) ? 'more than usual' : 'as usual';
}

/**
 * The usual in a sentence for the page.
 *
 * @example usualSentence(usual) // 'Usual for this athlete: 41, mostly 39 to 44 (four of five of 7 judged rests ...).'
 */
export function usualSentence({ middle, low, high, sessionCount, restCount }: Usual): string {
	const [m, l, h] = [middle, low, high].map((value) => Math.round(value) || 0);
	return `Usual for this athlete: ${m}, mostly ${l} to ${h} (four of five of ${restCount} judged rests in ${sessionCount} like sessions).`;
}
