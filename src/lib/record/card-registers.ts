import { athleteSchema, type Athlete } from './athlete';
import { heldTo, withStop } from './blow-changes';
import { check, type Checked } from './check';
import { blowRegister, isBareLock, isBlowRegister, shownOfBlow, withLocks } from './lock-registers';
import type { Registers, Said } from './registers';
import { textOf } from './same';

/** A value comes with its day and source or not at all. */
const together: Record<string, readonly string[]> = {
	threshold: ['thresholdBpm', 'thresholdDate', 'thresholdSource', 'thresholdBasis'],
	resting: ['restBpm', 'restDate', 'restPosture']
};
const registerOf = new Map(
	Object.entries(together).flatMap(([register, members]) => members.map((member) => [member, register]))
);

/** Members that are no registers: they say which card it is, or come of the registers. */
const notSaid = new Set(['id', 'changedAt', 'weights', 'olderThresholds', 'blows', 'locks', 'bouts']);
/** The day without sparring. */
const stop = 'noSparringUntil';
/** Of weights by day the last is what somebody weighs now, whichever was entered last. */
const lastWeight = 'the last weight';
const weights = 'weights/';
const thresholds = 'olderThresholds/';
const bouts = 'bouts/';
/** What the page notes by itself. */
export const strapRegister = 'strapName';

type Loose = Record<string, unknown>;
interface OlderThreshold {
	bpm: number;
	date?: string;
}

const thresholdKey = ({ bpm, date = '' }: OlderThreshold) => `${thresholds}${date}/${bpm}`;

/** A card's values by register. What it does not say has none. */
export function valuesOf(card: Athlete): Map<string, unknown> {
	const values = new Map<string, unknown>();
	for (const [member, value] of Object.entries(card)) {
		if (notSaid.has(member) || value === undefined) continue;
		const register = registerOf.get(member);
		if (!register) values.set(member, value);
		else values.set(register, { ...(values.get(register) as Loose | undefined), [member]: value });
	}
	if (card.weightKg !== undefined && card.weightKg === card.weights?.at(-1)?.kg)
		values.set('weightKg', lastWeight);
	for (const weight of card.weights ?? []) values.set(weights + weight.date, weight);
	for (const threshold of card.olderThresholds ?? []) values.set(thresholdKey(threshold), threshold);
	for (const lock of card.locks ?? []) values.set(blowRegister(lock.day), lock);
	for (const blow of card.blows ?? []) {
		const lock = card.locks?.find(({ day }) => day === blow.day);
		values.set(blowRegister(blow.day), lock ? heldTo(blow, lock) : blow);
	}
	for (const bout of card.bouts ?? []) values.set(bouts + bout.id, bout);
	return values;
}

/**
 * The value that a register shows: the latest word. What keeps somebody from being hit is held against a later word that
 * was said unaware of it, also against one that takes it away.
 */
export function shownOf(register: string, said: readonly Said[] | undefined): unknown {
	if (said && isBlowRegister(register)) return shownOfBlow(said);
	if (said && register === stop)
		return said
			.flatMap(({ value }) => (typeof value === 'string' ? value : []))
			.sort()
			.at(-1);
	return said?.[0]?.value;
}

/** The card that a state shows, or why it shows none. Values come from files, so the whole is checked. */
export function cardOf(id: string, said: Registers, changedAt?: string): Checked<Athlete> {
	const state = withLocks(said);
	const card: Loose = { id };
	const lists: Record<'weights' | 'olderThresholds' | 'blows' | 'locks' | 'bouts', Loose[]> = {
		weights: [],
		olderThresholds: [],
		blows: [],
		locks: [],
		bouts: []
	};
	for (const register of Object.keys(state).sort()) {
		const value = shownOf(register, state[register]);
		if (value === undefined) continue;
		if (register.startsWith(weights)) lists.weights.push(value as Loose);
		else if (register.startsWith(thresholds)) lists.olderThresholds.push(value as Loose);
		else if (isBlowRegister(register)) lists[isBareLock(value) ? 'locks' : 'blows'].push(value as Loose);
		else if (register.startsWith(bouts)) lists.bouts.push(value as Loose);
		else if (Object.hasOwn(together, register)) Object.assign(card, value);
		else card[register] = value;
	}
	takeThresholdsBeside(state, lists.olderThresholds);
	for (const [name, list] of Object.entries(lists))
		if (list.length > 0) card[name] = list.sort((one, other) => (dateIn(one) < dateIn(other) ? -1 : 1));
	if (card.weightKg === lastWeight) {
		if (lists.weights.length > 0) card.weightKg = lists.weights.at(-1)!.kg;
		else delete card.weightKg;
	}
	if (changedAt !== undefined) card.changedAt = changedAt;
	const checked = check(athleteSchema, card);
	return checked.value ? { value: withStop(checked.value) } : checked;
}

const dateIn = ({ date, day }: Loose) => String(date ?? day ?? '');

/** A threshold that another laptop found at the same time is one that held, too. */
function takeThresholdsBeside(state: Registers, older: Loose[]): void {
	const [shown, ...beside] = state.threshold ?? [];
	const known = new Set(older.map((one) => thresholdKey(one as unknown as OlderThreshold)));
	const entryOf = (value: unknown) => {
		const {
			thresholdBpm: bpm,
			thresholdDate: date,
			thresholdSource: source,
			thresholdBasis: basis
		} = value as Loose;
		return {
			bpm,
			...(date !== undefined && { date }),
			...(source !== undefined && { source }),
			...(basis !== undefined && { basis })
		};
	};
	const own = shown?.value && thresholdKey(entryOf(shown.value) as OlderThreshold);
	for (const { value } of beside) {
		if (typeof value !== 'object' || value === null) continue;
		const entry = entryOf(value);
		const key = thresholdKey(entry as OlderThreshold);
		if (key === own || known.has(key)) continue;
		known.add(key);
		older.push(entry);
	}
}

/** Whether two cards say the same; who changed them when is no part of that. */
export function looksAlike(one: Athlete, other: Athlete | undefined): boolean {
	return textOf({ ...one, changedAt: 0 }) === textOf({ ...other, changedAt: 0 });
}
