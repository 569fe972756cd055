import { blockOf } from '$lib/rounds/blocks';
import { blocksAfter } from '$lib/rounds/timeline';
import type { SessionRecord } from '$lib/record/body';
import { unpackReadings } from '$lib/record/columns';
import { livedPhases } from '../summary';
import { csvText } from './csv-text';

/** The columns of a session's table, in order; `static/session-csv.tableschema.json` describes them. */
export const sessionColumns = [
	'elapsed_s',
	'phase',
	'round',
	'bpm',
	'contact',
	'rr_ms',
	'phase_s',
	'paused',
	'activity',
	'energy_kj',
	'simulated'
] as const;
export type SessionColumn = (typeof sessionColumns)[number];

/**
 * A session's readings as CSV (RFC 4180, header row, CRLF), one row a packet in order of arrival. Times are exact to the
 * millisecond, RR intervals to a tenth of one, which is finer than the 1/1024 s that a strap sends. Rows outside every
 * phase, such as readings from before Start, leave empty what belongs to a phase. It names nobody.
 *
 * @param record as it was put right
 */
export function sessionCsv({ head, body }: SessionRecord): string {
	const phases = livedPhases(head);
	const blocks = blocksAfter(head.plan, head.amendments);
	let [at, pauseAt] = [0, 0];
	const rows = unpackReadings(body).map(({ ms, bpm, contact, rrMs, energyKJ }) => {
		for (; at < phases.length && phases[at]!.endMs <= ms; at++) pauseAt = 0;
		const next = phases[at];
		const phase = next && next.startMs <= ms ? next : undefined;
		const pauses = phase?.pauses ?? [];
		while (pauseAt < pauses.length && pauses[pauseAt]!.toMs <= ms) pauseAt++;
		const isPaused = pauseAt < pauses.length && pauses[pauseAt]!.fromMs <= ms;
		const cells: Record<SessionColumn, string | number | undefined> = {
			elapsed_s: ms / 1000,
			phase: phase?.kind,
			round: phase?.round,
			bpm,
			contact,
			rr_ms: rrMs.map((interval) => interval.toFixed(1)).join(' '),
			phase_s: phase && (ms - phase.startMs) / 1000,
			paused: phase && String(isPaused),
			activity: phase && blockOf(blocks, phase).activity,
			energy_kj: energyKJ,
			simulated: String(head.practice)
		};
		return sessionColumns.map((name) => cells[name]);
	});
	return csvText([[...sessionColumns], ...rows]);
}
