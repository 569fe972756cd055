import { activities, type Activity } from '$lib/rounds/plan';
import {
	activityOf,
	athleteNameOf,
	countedDrop,
	inParts,
	planNameOf,
	titleOf,
	type KeptSession
} from './progress';
import { beats } from './beats';

/** What somebody looks for in the list; what is absent narrows nothing. */
export interface ListChoice {
	athleteId?: string;
	activity?: Activity;
	/** Guided measurements alone. */
	isTest?: true;
	/** Words of title, plan, note or name, all of which occur. */
	find?: string;
}

/** The choice as an address keeps it: `choiceIn('#of=ath-1&did=bag')` is { athleteId: 'ath-1', activity: 'bag' }. */
export function choiceIn(hash: string): ListChoice {
	const told = new URLSearchParams(hash.replace(/^#/, ''));
	const activity = activities.find((one) => one === told.get('did'));
	return {
		...(told.get('of') && { athleteId: told.get('of')! }),
		...(activity && { activity }),
		...(told.has('tests') && { isTest: true as const }),
		...(told.get('find') && { find: told.get('find')! })
	};
}

/** The other way round; empty where nothing is chosen. */
export function hashOf({ athleteId, activity, isTest, find }: ListChoice): string {
	const told = new URLSearchParams({
		...(athleteId && { of: athleteId }),
		...(activity && { did: activity }),
		...(isTest && { tests: '' }),
		...(find && { find })
	});
	return told.size > 0 ? `#${told.toString()}` : '';
}

/** Whether more is chosen than whose the sessions are. */
export const isNarrow = ({ activity, isTest, find }: ListChoice) =>
	activity !== undefined || isTest === true || (find ?? '').trim() !== '';

/** Small letters without their accents: "Zoë" is found by "zoe". */
const plain = (text: string) => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/**
 * Those of the sessions that fit the choice, in their order. Reads what heads and corrections say.
 *
 * @param cards the athletes as they are called now
 */
export function narrowed<Session extends KeptSession>(
	sessions: readonly Session[],
	{ activity, isTest, find = '' }: ListChoice,
	cards: readonly { id: string; name: string }[]
): Session[] {
	const words = plain(find).split(/\s+/).filter(Boolean);
	return sessions.filter((session) => {
		if (activity && !inParts(session).some((part) => activityOf(part) === activity)) return false;
		if (isTest && !session.head.plan.kind) return false;
		const text = [
			titleOf(session),
			planNameOf(session),
			session.edit.note ?? '',
			athleteNameOf(session, cards)
		];
		return words.every((word) => plain(text.join(' ')).includes(word));
	});
}

/** The local midnight that begins the week of a moment, epoch milliseconds; weeks begin on Monday. */
function mondayOf(at: string): number {
	const day = new Date(at);
	return new Date(day.getFullYear(), day.getMonth(), day.getDate() - ((day.getDay() + 6) % 7)).getTime();
}

/** The sessions week by week, weeks and sessions in the order given. */
export function byWeek<Session extends Pick<KeptSession, 'head'>>(
	sessions: readonly Session[]
): { mondayMs: number; sessions: Session[] }[] {
	const weeks = new Map<number, Session[]>();
	for (const session of sessions) {
		const mondayMs = mondayOf(session.head.startedAt);
		const week = weeks.get(mondayMs);
		if (week) week.push(session);
		else weeks.set(mondayMs, [session]);
	}
	return [...weeks].map(([mondayMs, sessions]) => ({ mondayMs, sessions }));
}

/** The one figure that a session is told by, and what it is. */
export interface ListedResult {
	figure: number;
	words: string;
}

/**
 * What a session came to, in one figure: a threshold run its threshold, a measurement at rest its rate, all else the
 * 1-minute drop. Undefined where there is none.
 */
export function listedResult(session: KeptSession): ListedResult | undefined {
	const { guided, meanDrop60 } = session.summary ?? {};
	const found = (value: number | undefined, words: string) =>
		value === undefined ? undefined : { figure: beats(value), words };
	if (guided?.kind === 'threshold run') return found(guided.thresholdBpm, 'threshold');
	if (guided?.kind === 'resting') return found(guided.restBpm, 'resting rate');
	return found(countedDrop(session)?.value ?? meanDrop60, '1-minute drop');
}
