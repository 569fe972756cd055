import type { Athlete } from '$lib/record/athlete';
import type { RecordEdit } from '$lib/record/edit';
import type { SessionRecord } from '$lib/record/body';
import type { Summary } from '$lib/record/summary';
import { sessionRatingLoad } from '$lib/physiology/load';
import { eatBackOf } from './eat-back';
import { marksOf } from './marks';
import { opinionOn, runResultOf, takenOf } from './own-result';
import { blockRows } from './block-rows';
import { athleteIdOf, athleteNameOf, doneWords, titleOf } from './progress';
import { putRightWords } from './put-right-words';
import type { Reviewed } from './reviewed';
import { runWorkKJ } from './run-pace';
import { hardRoundWords } from './hard-rounds';
import { dropsTogether, sessionSentence } from './session-sentence';
import { livedPhases } from './summary';
import { meanDropOf } from './mean-words';

interface Found {
	record: SessionRecord;
	edit: Omit<RecordEdit, 'at'>;
}

export type SessionView = ReturnType<typeof sessionView>;

/** Everything that the review of a session shows beside its figures, derived of what is kept. */
export function sessionView(
	{ record: raw, edit }: Found,
	shown: Reviewed,
	cards: readonly Athlete[],
	year: number
) {
	const { head } = shown.record;
	const id = athleteIdOf({ head: raw.head, edit });
	const owner = cards.find((card) => card.id === id);
	const run = runResultOf(shown, edit);
	const runWork = run && runWorkKJ(head, livedPhases(head), edit.distanceKm);
	const { summary } = shown;
	return {
		/** Whose card a result would change: whoever it belongs to by now. */
		owner,
		energyUnit: owner?.energyUnit ?? ('kcal' as const),
		hidesEnergy: owner?.hidesFuel ?? false,
		name: athleteNameOf({ head: raw.head, edit }, cards),
		title: titleOf({ head, edit }),
		done: doneWords({ head, edit, summary }),
		sentence: sessionSentence(head, summary, run),
		putRight: putRightWords(raw.head, edit),
		/** What belongs to the table of the rounds: what the drops come to, and what to know before they are read. */
		together: dropsTogether(summary, meanDropOf(summary)),
		blocks: blockRows(head, summary.rounds),
		cautions: [hardRoundWords(head.athlete) ?? '', ...dropCautions],
		run,
		/** What is the athlete's number already. */
		taken: takenOf(owner, summary, run),
		opinion: opinionOn(shown, raw),
		marks: marksOf(head),
		isAtRest: head.plan.kind === 'resting',
		metWork: runWork ?? summary.costs.metWorkKJ,
		effortLoad: effortLoadOf(edit.effort, summary),
		back: owner && eatBackOf(shown.record, owner, year)
	};
}

const effortLoadOf = (effort: number | undefined, { lengthS }: Pick<Summary, 'lengthS'>) =>
	effort === undefined ? undefined : sessionRatingLoad(effort, lengthS / 60);

const dropCautions = [
	'A single drop is uncertain by about 20 % between days. The band of 40 to 60 is common practice in boxing gyms, no source.',
	'The heart lags 10 to 20 s behind the work, so a closing burst mostly shows after the bell.'
];
