import type { Entrant, JournalEntry, SessionStart } from '$lib/record/journal';
import { RecordBuilder } from '$lib/record/record-builder';
import { unpackReadings } from '$lib/record/columns';
import { makeStart } from '../store/builders';

const names = ['Odalys', 'Tomas', 'Adem'];
export const entrantOf = (name: string, strapName?: string, practice = false): Entrant => ({
	recordId: `record-${name}`,
	athlete: { athleteId: `athlete-${name}`, name },
	...(strapName !== undefined && { strapName }),
	practice
});
/** Odalys begins with the strap; Tomas and Adem have none. */
export const shared = (overrides: Partial<SessionStart> = {}): JournalEntry => ({
	kind: 'start',
	start: makeStart({
		corners: names.map((name, i) => entrantOf(name, i === 0 ? 'Red' : undefined)),
		...overrides
	})
});
export const over = (from: number, corner: number, ms: number): JournalEntry => ({
	kind: 'hand over',
	corner,
	from,
	ms,
	strapName: 'Red',
	practice: false
});
export const putOn = (corner: number, ms: number, strapName = 'Blue', practice = false): JournalEntry => ({
	kind: 'hand over',
	corner,
	ms,
	strapName,
	practice
});
export const undone = (from: number, corner: number, ms: number): JournalEntry => ({
	kind: 'hand over undone',
	corner,
	from,
	ms
});
export function builderOf(...entries: JournalEntry[]): RecordBuilder {
	const builder = new RecordBuilder();
	for (const entry of entries) builder.push(entry);
	return builder;
}
/** The name and the moments of the readings of each record. */
export const told = (builder: RecordBuilder, endedMs = 600_000) =>
	builder
		.build(endedMs)
		.map(({ head, body }) => [head.athlete.name, unpackReadings(body).map(({ ms }) => ms)]);
