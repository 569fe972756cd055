import { headingWords, smallFallAdvice } from '$lib/physiology/advice';
import { bandBpm } from '$lib/physiology/recovery';
import { judgedAtS } from '$lib/physiology/rest-taken';
import type { RestView } from './live-rest';
import type { CornerView } from './live-view';
import { beats } from '$lib/review/beats';
import { verdictWords } from '$lib/review/words';

/** What the bell leaves to a voice, ms: since something rang, and until something rings. */
export interface Quiet {
	sinceMs: number;
	untilMs: number;
}

/** One thing to be said of one rest. */
interface Saying {
	/** Said once. */
	id: string;
	words: string;
	/** Beats from the nearest edge of the band: what is close may still be changed, or needs the look. */
	toEdgeBpm: number;
}

/** The forecast is sure enough by then, and there is a rest left to act in. */
const headingFromS = 45;
/** Later it would be said into its own end. */
const headingUntilS = 55;
/** Until the strokes of a bell or a whistle have rung out. */
const ringsForMs = 2000;
/** A clear voice says so many characters a second, and takes so long to begin: slower than most (own rule). */
const charactersPerS = 12;
const beginsAfterMs = 400;

/** How long a voice takes for these words at most, ms. */
export function spokenMs(words: string): number {
	return beginsAfterMs + (words.length / charactersPerS) * 1000;
}

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
	const way = wayOf(measure.drop60);
	const rate = measure.rate60 === undefined ? '' : ` Rate ${beats(measure.rate60)}.`;
	if (isVerySmallFall) return `${way}${rate} ${smallFallAdvice}`;
	const verdict = verdictWords(measure);
	return `${way}${rate} ${verdict.charAt(0).toUpperCase()}${verdict.slice(1)}.`;
}

/**
 * The voice at the ropes: at second 45 where each boxer's drop is heading, at the end the drop. Several boxers are named
 * first, nearest the edge of the band first; only what ends before the next bell or whistle is begun.
 */
export class SpokenRests {
	readonly #said = new Set<string>();
	#busyUntilMs = 0;

	/** What to begin saying at this moment; undefined for nothing. What it answers counts as said. */
	take(
		corners: readonly Pick<CornerView, 'corner' | 'name' | 'rest' | 'lastRest'>[],
		elapsedMs: number,
		quiet: Quiet
	): string | undefined {
		if (elapsedMs < this.#busyUntilMs || quiet.sinceMs < ringsForMs) return undefined;
		const isAlone = corners.length === 1;
		const due = corners
			.flatMap((corner) => sayingOf(corner, isAlone) ?? [])
			.filter(({ id }) => !this.#said.has(id))
			.sort((a, b) => a.toEdgeBpm - b.toEdgeBpm);
		let words = '';
		for (const saying of due) {
			const longer = words ? `${words} ${saying.words}` : saying.words;
			if (spokenMs(longer) > quiet.untilMs) continue;
			words = longer;
			this.#said.add(saying.id);
		}
		if (!words) return undefined;
		this.#busyUntilMs = elapsedMs + spokenMs(words);
		return words;
	}
}

function sayingOf(
	{ corner, name, rest, lastRest }: Pick<CornerView, 'corner' | 'name' | 'rest' | 'lastRest'>,
	isAlone: boolean
): Saying | undefined {
	const taken = rest ?? lastRest;
	if (!taken) return undefined;
	const named = (words: string) =>
		isAlone ? words : `${name}: ${words.charAt(0).toLowerCase()}${words.slice(1)}`;
	const { drop60 } = taken.measure;
	if (taken.atS >= judgedAtS) {
		if (drop60 === undefined) return undefined;
		const several = `${wayOf(drop60)}${taken.isVerySmallFall ? ` ${smallFallAdvice}` : ''}`;
		return {
			id: `${corner} ${taken.bellMs} drop`,
			words: isAlone ? spokenDrop(taken)! : named(several),
			toEdgeBpm: toEdge(drop60, drop60)
		};
	}
	if (!rest || rest.atS < headingFromS || rest.atS >= headingUntilS || !rest.forecast) return undefined;
	const { low, high } = rest.forecast;
	return {
		id: `${corner} ${rest.bellMs} heading`,
		words: named(`${headingWords(rest.forecast)}.`),
		toEdgeBpm: toEdge(low, high)
	};
}

/** Beats from an interval to the nearest edge of the band; 0 where it holds one. */
function toEdge(low: number, high: number): number {
	return Math.min(...[bandBpm.low, bandBpm.high].map((edge) => Math.max(0, low - edge, edge - high)));
}

function wayOf(drop60: number): string {
	const drop = beats(drop60);
	return drop < 0 ? `Up ${-drop}.` : `Down ${drop}.`;
}
