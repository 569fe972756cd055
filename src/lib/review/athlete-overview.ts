import { changeOver, type Change } from '$lib/physiology/change';
import { yardsticks } from '$lib/physiology/yardstick';
import type { Athlete } from '$lib/record/athlete';
import { dayOf, retestDueDays } from '$lib/record/athlete-changes';
import { blockedBy, restrictionOf } from '$lib/record/way-back';
import { recoveryCheckPlan } from '$lib/rounds/guided-plans';
import { stepWords } from '$lib/physiology/way-back';
import { dateWords, dayWords } from './day-words';
import { titleOf, type KeptSession, type ProgressMeasure } from './progress';
import { daysOf, sevenDayMedian } from './change-in-words';
import type { Measurement } from './progress-pictures';
import { listedResult } from './session-list';
import { beats } from './beats';

const dayMs = 86_400_000;
/** Own rule: a recovery check a week. */
const checkAfterDays = 7;

/** What a person's page draws of each kind, up to the last of it (own rule): ten years of it would take as long to read. */
export const overviewDays = 365;

/** What a person's page draws, and what would bring a picture that is not there yet. */
const overview = new Map<ProgressMeasure, string>([
	['drop at 60', 'Rounds with hard work and a rest of a minute bring it.'],
	['threshold', 'A threshold run brings it.'],
	['resting rate', 'Five quiet minutes with the strap bring it.'],
	['weight', 'A weight on the page Weight brings it.']
]);

/** One small picture with the figure of today and a sentence. */
export interface OverviewPicture extends Measurement {
	/** Absent where nothing is known. */
	now?: string;
	sentence: string;
}

function changeOf({ points }: Measurement): Change | undefined {
	const yardstick = points[0]?.yardstick;
	return yardstick && changeOver(daysOf(points), yardsticks[yardstick]);
}

/**
 * A change in one short sentence: `changeInBrief` of drops of 40, 41 and 42 on three days is "No clear change over 3
 * measured days." Empty where nothing was measured.
 */
export function changeInBrief(measurement: Measurement): string {
	const { points, figure } = measurement;
	if (points.length === 0) return '';
	const change = changeOf(measurement);
	if (change?.kind === 'too few')
		return `Measured on ${change.days === 1 ? 'one day' : `${change.days} days`}; a change can be told from ${change.needed} on.`;
	if (change?.kind === 'no clear change') return `No clear change over ${change.days} measured days.`;
	if (change) return `Clearly ${change.kind}: from ${beats(change.from)} to ${beats(change.to)}.`;
	const medians = sevenDayMedian(points).map(({ value }) => value);
	const [from, to] = [figure(medians[0]!), figure(medians.at(-1)!)];
	if (points.length < 3 || from === to) return `${points.length === 1 ? 'One day' : 'The days'} so far.`;
	return `${from} at the start, ${to} now.`;
}

/** The pictures of an athlete's first page, in their order, each of `overviewDays`. */
export function overviewPictures(measurements: readonly Measurement[], athlete: Athlete): OverviewPicture[] {
	const onCard: Partial<Record<ProgressMeasure, number>> = {
		threshold: athlete.thresholdBpm,
		'resting rate': athlete.restBpm
	};
	return measurements.flatMap((whole) => {
		const brings = overview.get(whole.measure);
		if (!brings) return [];
		const sinceMs = (whole.points.at(-1)?.atMs ?? 0) - overviewDays * dayMs;
		const one = { ...whole, points: whole.points.filter(({ atMs }) => atMs >= sinceMs) };
		const known = onCard[one.measure] ?? one.points.at(-1)?.value;
		return {
			...one,
			...(known !== undefined && { now: one.figure(known) }),
			sentence:
				changeInBrief(one) ||
				(known === undefined ? brings : 'On the card; nothing to draw from the last year.')
		};
	});
}

/**
 * Whether there are sessions from before those that the first page tells of.
 *
 * @param sessions those that were listed, newest first
 * @param total how many there are
 */
export function hasOlderSessions(sessions: readonly KeptSession[], total: number): boolean {
	const [newest, oldest] = [sessions[0], sessions.at(-1)].map((one) => Date.parse(one?.head.startedAt ?? ''));
	return total > sessions.length || newest! - oldest! > overviewDays * dayMs;
}

const noneSince = (hasOlder: boolean) => (hasOlder ? 'within a year' : 'yet');

/**
 * The latest session in a sentence: "Last session Thu 26 Nov: Bag, 6 x 3, 1-minute drop 38."
 *
 * @param hasOlder see `hasOlderSessions`
 */
export function latestSentence(sessions: readonly KeptSession[], nowMs: number, hasOlder = false): string {
	const last = sessions.at(-1);
	if (!last) return `No session with a strap ${noneSince(hasOlder)}.`;
	const result = listedResult(last);
	const came = result ? `, ${result.words} ${result.figure}` : '';
	return `Last session ${dayWords(last.head.startedAt, { nowMs })}: ${titleOf(last)}${came}.`;
}

/** What has changed over all of somebody's measurements, in a sentence or two. */
export function progressSentence(measurements: readonly Measurement[]): string {
	const judged = measurements.flatMap((one) => {
		const kind = changeOf(one)?.kind;
		return kind && kind !== 'too few' ? { kind, name: one.name } : [];
	});
	if (judged.length === 0) return 'Too few measurements yet to speak of a change.';
	const moved = judged.filter(({ kind }) => kind !== 'no clear change');
	const stayed = judged.filter(({ kind }) => kind === 'no clear change').map(({ name }) => inSentence(name));
	const clear = moved.map(({ name, kind }) => `${inSentence(name)} ${kind}`);
	return [
		clear.length > 0 && `Clearly changed: ${listed(clear)}.`,
		stayed.length > 0 && `No clear change: ${listed(stayed)}.`
	]
		.filter(Boolean)
		.join(' ');
}

const inSentence = (name: string) => name[0]!.toLowerCase() + name.slice(1);
const listed = (words: readonly string[]) =>
	words.length > 1 ? `${words.slice(0, -1).join(', ')} and ${words.at(-1)}` : words.join('');

/** A test that is worth doing now, and why. */
export interface DueTest {
	test: 'Threshold run' | 'Recovery check';
	why: string;
}

/**
 * Own rules: a threshold is measured again after `retestDays`, a recovery check is made each week. What was never
 * measured is due as well. Undefined while a blow to the head bars both.
 *
 * @param sessions of the athlete, oldest first
 * @param hasOlder see `hasOlderSessions`
 */
export function dueTests(
	athlete: Athlete,
	sessions: readonly KeptSession[],
	nowMs: number,
	retestDays: number,
	hasOlder = false
): DueTest[] | undefined {
	const today = dayOf(new Date(nowMs));
	if (blockedBy(athlete, recoveryCheckPlan(undefined), today)) return undefined;
	const due: DueTest[] = [];
	const ageDays = retestDueDays(athlete, today, retestDays);
	if (athlete.thresholdBpm === undefined) due.push({ test: 'Threshold run', why: 'No threshold is known.' });
	else if (ageDays !== undefined)
		due.push({ test: 'Threshold run', why: `The threshold is ${Math.floor(ageDays / 7)} weeks old.` });
	const check = sessions.findLast(({ head }) => head.plan.kind === 'recovery check');
	const sinceDays = check && Math.floor((nowMs - Date.parse(check.head.startedAt)) / dayMs);
	if (sinceDays === undefined)
		due.push({ test: 'Recovery check', why: `There was none ${noneSince(hasOlder)}.` });
	else if (sinceDays > checkAfterDays)
		due.push({ test: 'Recovery check', why: `The last one was ${sinceDays} days ago.` });
	return due;
}

/** Why this athlete is held back today, and how far the way is open; undefined where nothing holds them back. */
export function restrictionWords(athlete: Athlete, nowMs: number): string | undefined {
	const restriction = restrictionOf(athlete, dayOf(new Date(nowMs)));
	if (!restriction) return undefined;
	const { step, why } = restriction;
	const cause =
		why === 'blow'
			? 'After a blow to the head'
			: why === 'lock'
				? 'It was entered on another laptop, and the reason did not come along'
				: `"No sparring until ${dateWords(athlete.noSparringUntil!, { nowMs })}" was entered, and no day opens a lock`;
	return `${cause}. Open up to step ${step}: ${stepWords[step]}. A doctor and the local rules decide, not this page; Details say more.`;
}
