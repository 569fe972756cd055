import type { Entries } from './form';
import { same, soundHere, type Note, type Outcome, type Steps } from './steps';
import { cardStatePrefix } from '../athletes';
import type { Athlete } from '$lib/record/athlete';
import { joinedCard, keptCard, saidWithoutStamps } from '$lib/record/card-merge';
import { looksAlike } from '$lib/record/card-registers';
import type { Registers } from '$lib/record/registers';
import { memberOf } from '$lib/record/kinds';

/** A card of the backup, or one that was put away there. */
export function takeAthlete(key: string, entries: Entries, here: Entries, steps: Steps, note: Note): void {
	const [kind, id = ''] = key.split('/');
	if (kind === 'athlete') {
		const { name } = entries.get(key) as Athlete;
		const [outcome, why] = takeCard(id, entries, here, steps);
		if (!here.has(`gone-athlete/${id}`)) return note(outcome, name, why);
		steps.deletes.push(`gone-athlete/${id}`);
		return note(outcome === 'skipped' ? 'changed' : outcome, name, 'deleted here; comes back');
	}
	const gone = entries.get(key) as { athlete: Athlete };
	const { name } = gone.athlete;
	if (here.has(`athlete/${id}`) || entries.has(`athlete/${id}`))
		return note('skipped', name, 'deleted in the backup; here nobody is deleted by a restore');
	const present = soundHere(key, here) as object | undefined;
	const from = (deleted: object | undefined, deletedAtMs: number) => ({ ...deleted, deletedAtMs });
	if (same(from(present, 0), from(gone, 0))) return note('skipped', name, 'already here');
	const said = entries.get(cardStatePrefix + id);
	steps.puts.push([key, from(gone, steps.nowMs)]);
	if (said !== undefined && !here.has(cardStatePrefix + id)) steps.puts.push([cardStatePrefix + id, said]);
	note(here.has(key) ? 'changed' : 'added', name, 'deleted; can be brought back for a day');
}

function takeCard(id: string, entries: Entries, here: Entries, steps: Steps): [Outcome, string?] {
	const coming = entries.get(`athlete/${id}`) as Athlete;
	const said = entries.get(cardStatePrefix + id) as Registers | undefined;
	const kept = keptCard(here.get(`athlete/${id}`), here.get(cardStatePrefix + id));
	const stamp = { at: coming.changedAt ?? '', by: '' };
	const {
		state,
		card: { value: card },
		isNews
	} = joinedCard(id, kept, (known) => said ?? saidWithoutStamps(known, coming, stamp), coming.changedAt);
	const put = (puts: Record<string, unknown>) => steps.puts.push(...Object.entries(puts));
	// What is said of it comes to no card: the card itself is sound.
	if (!kept || !card) {
		put({ [`athlete/${id}`]: coming, ...(said && { [cardStatePrefix + id]: said }) });
		return [here.has(`athlete/${id}`) ? 'changed' : 'added'];
	}
	if (!isNews)
		return [
			'skipped',
			looksAlike(coming, card) ? 'already here' : 'what is here was entered later, and stays'
		];
	put({ [`athlete/${id}`]: card, [cardStatePrefix + id]: state });
	return ['changed', 'what was entered here later stays'];
}

/** The athlete "Me" that an empty store was given, still untouched, where the backup brings somebody. */
export function standInOf(entries: Entries, here: Entries): Athlete | undefined {
	const keys = [...here.keys()];
	const athletes = keys.filter((key) => key.startsWith('athlete/'));
	if (athletes.length !== 1 || entries.has(athletes[0]!)) return undefined;
	if (![...entries.keys()].some((key) => key.startsWith('athlete/'))) return undefined;
	const athlete = soundHere(athletes[0]!, here) as Athlete | undefined;
	if (!athlete || athlete.name !== 'Me' || Object.keys(athlete).length !== 2) return undefined;
	const hasSession = keys.some(
		(key) =>
			key.startsWith('head/') &&
			memberOf(memberOf(memberOf(here.get(key), 'head'), 'athlete'), 'athleteId') === athlete.id
	);
	const hasFuel = keys.some(
		(key) => key.split('/')[1] === athlete.id && !/^(athlete|card-state)\//.test(key)
	);
	return hasSession || hasFuel ? undefined : athlete;
}
