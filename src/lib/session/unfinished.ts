import type { JournalEntry, Sink } from './journal';
import { RecordBuilder } from './record-builder';
import { measured } from './summary';

/** How far an unfinished session is known to have come, in elapsed ms. */
export function lastMsOf(entries: readonly JournalEntry[]): number {
	const builder = new RecordBuilder();
	for (const entry of entries) builder.push(entry);
	return builder.lastMs;
}

/**
 * Keeps a session that was left unfinished, as far as it came. Answers the id of its first record.
 * Rejects as the sink does, and where the journal has no start.
 */
export async function keepUnfinished(entries: readonly JournalEntry[], sink: Sink): Promise<string> {
	const builder = new RecordBuilder();
	for (const entry of entries) builder.push(entry);
	const records = builder.build(builder.lastMs).map(measured);
	await sink.finish(records);
	return records[0]!.head.id;
}
