import { handOn } from '$lib/components/frame/share';
import type { SessionRecord } from '$lib/record/body';
import { asPutRight } from '$lib/record/put-right';
import { sessionCsv } from '$lib/review/formats/session-csv';
import type { FileForm } from '$lib/review/formats/offers';
import { exportName, namelessExport, sessionJson } from '$lib/store/export';
import type { FoldedEdit } from '$lib/record/edit';
import type { Summary } from '$lib/record/summary';

/** Hands a session on as a file; `edit` is what was put right of it later. */
export function exportSession(record: SessionRecord, form: 'json' | 'csv', edit: FoldedEdit = {}): void {
	const name = exportName(record.head, `.${form}`, edit.athlete?.name);
	if (form === 'json') void handOn(name, 'application/json', sessionJson(record, edit));
	else void handOn(name, 'text/csv', sessionCsv(asPutRight(record, edit)));
}

/** A session that lies in the store, with all that its files tell. */
interface Kept {
	record: SessionRecord;
	edit: FoldedEdit;
	summary: Summary | undefined;
	/** Of the athlete by now. */
	name: string;
}

/** The same in any form; what writes the rarer ones is fetched now. Answers why it was not done. */
export async function exportAs(form: FileForm, kept: Kept): Promise<string | undefined> {
	const { record: raw, edit, summary, name } = kept;
	if (form === 'json' || form === 'csv') return void exportSession(raw, form, edit);
	const record = asPutRight(raw, edit);
	const { head } = record;
	const madeAt = new Date().toISOString();
	try {
		if (form === 'rr') {
			const { rrText } = await import('$lib/review/formats/rr-text');
			await handOn(namelessExport(head, '.rr.txt'), 'text/plain', rrText(record));
		} else if (summary && form === 'fhir') {
			const { fhirText } = await import('$lib/review/formats/fhir');
			const text = await fhirText(record, summary, name, madeAt);
			await handOn(exportName(head, '.fhir.json', name), 'application/fhir+json', text);
		} else if (summary) {
			const { openMHealthText } = await import('$lib/review/formats/open-mhealth');
			const text = openMHealthText(record, summary, madeAt);
			await handOn(namelessExport(head, '.omh.json'), 'application/json', text);
		}
		return undefined;
	} catch {
		return 'The file could not be made. Load the page again and try once more.';
	}
}
