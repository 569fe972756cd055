import type { JournalEntry, UnfinishedSink } from '$lib/record/journal';
import { RecordBuilder } from '$lib/record/record-builder';
import { unstrapped } from '$lib/record/unstrapped';
import { measured } from './summary';

/** How far an unfinished session is known to have come, in elapsed ms. */
export function lastMsOf(entries: readonly JournalEntry[]): number {
	const builder = new RecordBuilder();
	for (const entry of entries) builder.push(entry);
	return builder.lastMs;
}

/**
 * Keeps a session that was left unfinished, as far as it came: what lies in the store at that moment, for another tab
 * may have gone on with it since it was read. Where nothing lies there any more (the browser was cleared), `listed` is
 * the only place that has it. Answers the id of its first record. Rejects as the sink does.
 */
export async function keepUnfinished(listed: readonly JournalEntry[], sink: UnfinishedSink): Promise<string> {
	let firstId: string | undefined;
	await sink.finishAs((entries) => {
		const builder = new RecordBuilder();
		for (const entry of entries.length > 0 ? entries : listed) builder.push(entry);
		const records = builder.build(builder.lastMs).map(measured);
		firstId = records[0]?.head.id;
		return { records, entries: unstrapped(builder.start, builder.corners, builder.lastMs) };
	});
	return firstId!;
}
