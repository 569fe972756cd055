import { textOf } from './registers';
import { snapshotOf } from './athlete-snapshot';
import type { AthleteSnapshot, RecordHead } from './head';
import type { RecordEdit, ToldLater } from './edit';
import type { SessionRecord } from './body';
import type { Athlete } from './athlete';

export type Edit = Omit<RecordEdit, 'at'>;

/** Whether a correction gives the session to another athlete. */
export const isMoved = (head: RecordHead, { athlete }: Edit) =>
	athlete !== undefined && athlete.id !== head.athlete.athleteId;

/** Whether a correction changes what the readings come to. */
export function changesMeasures(edit: Edit): boolean {
	return (
		edit.athlete !== undefined ||
		edit.activity !== undefined ||
		(edit.told !== undefined && Object.keys(edit.told).length > 0)
	);
}

/** All of a head and its corrections that the measures hang on, as one text: where it is the same, so are they. */
export function measuredBy(head: RecordHead, edit: Edit): string {
	const { athlete, plan } = headPutRight(head, edit);
	const { athleteId: _id, name: _name, ...numbers } = athlete;
	return textOf({ numbers, activity: plan.activity });
}

/**
 * The record as its later entries put it right, for the measures to be taken of: the athlete, what was done, and
 * numbers of the athlete that nobody had noted on the day. A number that was noted on the day stands; those of an
 * athlete who was noted wrongly do not. The readings are the same ones.
 */
export function asPutRight(record: SessionRecord, edit: Edit): SessionRecord {
	return changesMeasures(edit) ? { head: headPutRight(record.head, edit), body: record.body } : record;
}

/** The same of the head alone, for whoever has no readings. */
export function headPutRight(head: RecordHead, edit: Edit): RecordHead {
	const { athleteId, name } = head.athlete;
	const athlete: AthleteSnapshot =
		edit.athlete && isMoved(head, edit)
			? { ...edit.told, athleteId: edit.athlete.id, name: edit.athlete.name }
			: { ...edit.told, ...head.athlete, athleteId, name };
	const plan = { ...head.plan, ...(edit.activity && { activity: edit.activity }) };
	return { ...head, athlete, plan };
}

/**
 * The numbers on an athlete's card as they held on a day, for a session that is put right to be theirs. A dated
 * number counts from its day on; one without a date is taken as it stands.
 *
 * @param day YYYY-MM-DD
 */
export function cardOn(card: Athlete, day: string): ToldLater {
	const { olderThresholds = [], thresholdBpm, thresholdDate, thresholdBasis, weights = [], restDate } = card;
	const thresholds = [
		...olderThresholds,
		...(thresholdBpm === undefined ? [] : [{ bpm: thresholdBpm, date: thresholdDate, basis: thresholdBasis }])
	].filter(({ date }) => date === undefined || date <= day);
	const held = thresholds.toSorted((a, b) => ((a.date ?? '') < (b.date ?? '') ? -1 : 1)).at(-1);
	const weighed = weights.filter(({ date }) => date <= day).at(-1);
	const { athleteId: _id, name: _name, ...numbers } = snapshotOf(card, Number(day.slice(0, 4)));
	const { thresholdBpm: _threshold, thresholdBasis: _basis, weightKg, restBpm, ...steady } = numbers;
	const kg = weights.length > 0 ? weighed?.kg : weightKg;
	return {
		...steady,
		...(held && { thresholdBpm: held.bpm, ...(held.basis && { thresholdBasis: held.basis }) }),
		...(kg !== undefined && { weightKg: kg }),
		...(restBpm !== undefined && (!restDate || restDate <= day) && { restBpm })
	};
}
