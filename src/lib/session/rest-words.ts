import { beats } from '$lib/review/beats';
import { briefVerdict } from '$lib/review/words';
import type { ShownRest } from './shown-rest';

/** The two lines under the picture of a rest: one in large letters, and what to do with it. */
export interface RestWords {
	large: string;
	advice?: string;
}

/** A sentence of where a rest is heading begins with the interval; what that is called comes after it. */
const headingOf = /^(Heading for [^.:]+)[.:]\s*(.*)$/;

/**
 * What is said of the rest that runs: where it is heading, and once second 60 is past what it came to. Undefined
 * before second 40.
 *
 * @example restWords(shown) // { large: 'Heading for 30 to 40; your usual is 38 to 46', advice: 'Too close to call; ...' }
 */
export function restWords({ judged, verdict }: ShownRest): RestWords | undefined {
	if (!judged) return undefined;
	const { measure, advice } = judged;
	if (verdict === undefined) {
		const [, large, call] = headingOf.exec(advice ?? '') ?? [];
		return large === undefined ? undefined : { large, ...(call && { advice: capital(call) }) };
	}
	const brief = briefVerdict(measure);
	const large =
		measure.drop60 === undefined ? 'No 1-minute drop' : `Dropped ${beats(measure.drop60)}: ${brief}`;
	return { large, ...(advice && { advice }) };
}

const capital = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
