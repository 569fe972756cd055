import { packReadings, type Reading } from '$lib/record/columns';
import { formOf, type RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';
import { livedPhases, measured } from '$lib/review/summary';
import { records } from '../../store/arbitraries';
import { makeHead } from '../../store/builders';

/** An invented round: up to 172 in three minutes, and down by 44 in a minute. */
const rateAt = (kind: string | undefined, s: number) =>
	kind === 'work'
		? 120 + 52 * (1 - Math.exp(-s / 45))
		: kind === 'rest' || kind === 'closing'
			? 100 + 72 * Math.exp(-s / 64)
			: 96;

/**
 * A packet a second, 300 ms into it, with the intervals of the beats since the one before, in 1/1024 s as straps send
 * them. The beats of a second that is left out are lost.
 */
export function boxed(
	overrides: Partial<RecordHead> = {},
	leaveOut: (s: number) => boolean = () => false
): SessionRecord {
	const { plan, amendments, ...others } = { ...makeHead(), amendments: [], events: [], ...overrides };
	const head = makeHead({ ...others, plan, amendments, version: formOf(plan, amendments, []) });
	const phases = livedPhases(head);
	const readings: Reading[] = [];
	let beatMs = -2700;
	for (let s = -2; s * 1000 + 300 < head.endedMs; s++) {
		const ms = s * 1000 + 300;
		const phase = phases.find(({ startMs, endMs }) => startMs <= ms && ms < endMs);
		const bpm = Math.round(rateAt(phase?.kind, (ms - (phase?.startMs ?? 0)) / 1000));
		const intervalMs = (Math.round((60_000 / bpm) * 1.024) * 1000) / 1024;
		const rrMs: number[] = [];
		for (; beatMs + intervalMs <= ms; beatMs += intervalMs) rrMs.push(intervalMs);
		if (!leaveOut(s)) readings.push({ ms, bpm, contact: 'contact', rrMs });
	}
	return { head, body: packReadings(readings) };
}

/** Whatever was recorded, if it has a summary: nobody joins after the end. */
export const measurable = records.filter((record) => measured(record).summary !== undefined);
