import type { Answer } from '$lib/physiology/answer';
import { dayOf } from '$lib/record/athlete-changes';
import { picturesOf, type SessionPictures } from './pictures';
import { asPutRight, cardOn, changesMeasures } from '$lib/record/put-right';
import type { FoldedEdit } from '$lib/record/edit';
import type { SessionRecord } from '$lib/record/body';
import type { Athlete } from '$lib/record/athlete';
import type { Summary } from '$lib/record/summary';
import { NotMeasurable, summaryOf } from './summary';

/** A record as it was put right, with what it comes to. */
export interface Reviewed {
	record: SessionRecord;
	summary: Summary;
	pictures: SessionPictures;
}

/**
 * @param kept the summary that lies beside the record; it may be older than a correction
 * @throws NotMeasurable as `summaryOf` does
 */
export function summaryAsPutRight(raw: SessionRecord, edit: FoldedEdit, kept?: Summary): Summary {
	return (!changesMeasures(edit) && kept) || summaryOf(asPutRight(raw, edit));
}

/** A record as it was put right, measured and ready to be drawn; `kept` as above, and throws as above. */
export function reviewed(raw: SessionRecord, edit: FoldedEdit, kept?: Summary): Reviewed {
	const record = asPutRight(raw, edit);
	const summary = summaryAsPutRight(raw, edit, kept);
	return { record, summary, pictures: picturesOf(record, summary) };
}

/** What `reviewed` answers, or why it cannot: a record that defies measuring can still be read, exported and deleted. */
export function reviewedOrWhyNot(...what: Parameters<typeof reviewed>): Answer<Reviewed> {
	try {
		return { value: reviewed(...what) };
	} catch (error) {
		return { reason: error instanceof NotMeasurable ? error.message : 'A measure failed on its readings.' };
	}
}

/** A change with what it brings along: whoever a session is put right to be of comes with the numbers of their card. */
export function withNumbers(
	change: FoldedEdit,
	{ head }: SessionRecord,
	athletes: readonly Athlete[]
): FoldedEdit {
	const { athlete } = change;
	if (!athlete) return change;
	const isBack = athlete.id === head.athlete.athleteId;
	const card = isBack ? undefined : athletes.find(({ id }) => id === athlete.id);
	return { ...change, told: card ? cardOn(card, dayOf(new Date(head.startedAt))) : {} };
}
