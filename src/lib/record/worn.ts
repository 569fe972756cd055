import type { RecordHead, StrapChange } from './head';

/** A stretch of elapsed time, ms. */
export interface Span {
	fromMs: number;
	toMs: number;
}

/** When a strap was on, in order of time: from `fromMs` on unless it began without one, as the changes say. */
export function spansOf(fromMs: number, isBare: boolean, changes: readonly StrapChange[]): Span[] {
	const spans: Span[] = isBare ? [] : [{ fromMs, toMs: Infinity }];
	for (const { ms, handOver } of changes) {
		if (handOver === 'put on') spans.push({ fromMs: ms, toMs: Infinity });
		const last = spans.at(-1);
		if (handOver === 'given away' && last) last.toMs = ms;
	}
	return spans;
}

const beganBare = (changes: readonly StrapChange[]) =>
	changes.find(({ handOver }) => handOver)?.handOver === 'put on';

/** When the athlete of a record was there with a strap on, from the first moment to the last. */
export const wornIn = ({
	joinedMs,
	strapChanges = []
}: Pick<RecordHead, 'joinedMs' | 'strapChanges'>): Span[] =>
	spansOf(joinedMs ?? -Infinity, beganBare(strapChanges), strapChanges);
