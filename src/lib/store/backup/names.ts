import type { Entries } from './form';
import { soundHere } from './steps';
import { paperMomentWords } from '$lib/review/day-words';
import type { Athlete } from '$lib/record/athlete';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';

/** Settings by the words of the screens. */
export const settingNames: Record<string, string> = {
	'setting/lastPlan': 'The plan used last',
	'setting/lastPlans': 'The plans used lately',
	'setting/bell': 'Bell',
	'setting/corners': 'Who stands in which corner',
	'setting/strapName': 'The strap used last',
	'setting/firstQuestionsAsked': 'The questions of the first visit',
	'setting/athlete': 'Who boxes now',
	'setting/units': 'Units',
	'setting/retestAfterDays': 'When a retest is suggested'
};

/** A session as the list names it, with its later entries. */
export function sessionName(
	{ plan, startedAt, athlete }: RecordHead,
	edits: readonly [string, unknown][]
): string {
	const titles = edits
		.toSorted(([one], [other]) => (one < other ? -1 : 1))
		.map(([, edit]) => (edit as RecordEdit).title);
	const title = titles.findLast((one) => one !== undefined) || plan.name;
	return `${title}, ${paperMomentWords(startedAt)}, ${athlete.name}`;
}

/** An athlete by the name in the backup, or else by the one here. */
export function nameOf(id: string | undefined, entries: Entries, here: Entries): string {
	const athlete = (entries.get(`athlete/${id}`) ?? soundHere(`athlete/${id}`, here)) as Athlete | undefined;
	return athlete?.name ?? 'An athlete who is not here';
}
