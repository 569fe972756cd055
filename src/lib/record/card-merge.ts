import { athleteSchema, type Athlete } from './athlete';
import { check, type Checked } from './check';
import { changedRegisters, isSame, joined, registersSchema, textOf, type Registers } from './registers';
import type { Stamp } from './stamp';

/**
 * A card as registers (record/registers.ts), each of them a member (or members that mean something only together, or one
 * entry of a list).
 */
export type CardState = Registers;

/** A value comes with its day and source or not at all. */
const together: Record<string, readonly string[]> = {
	threshold: ['thresholdBpm', 'thresholdDate', 'thresholdSource', 'thresholdBasis'],
	resting: ['restBpm', 'restDate', 'restPosture']
};
const registerOf = new Map(
	Object.entries(together).flatMap(([register, members]) => members.map((member) => [member, register]))
);

/** Members that are no registers: they say which card it is, or come of the registers. */
const notSaid = new Set(['id', 'changedAt', 'weights', 'olderThresholds']);
/** Of weights by day the last is what somebody weighs now, whichever was entered last. */
const lastWeight = 'the last weight';
const weights = 'weights/';
const thresholds = 'olderThresholds/';
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
	return values;
}

/** The state of a card that was kept without stamps: all of it was said at the card's last change, as far as is known. */
export function unstamped(card: Athlete, stamp: Stamp = { at: card.changedAt ?? '', by: '' }): CardState {
	return Object.fromEntries(
		Array.from(valuesOf(card), ([register, value]) => [register, [{ value, ...stamp }]])
	);
}

/** A change by hand, from the card that it was made to: `changedRegisters`. */
export function changedBy(
	state: CardState,
	before: Athlete | undefined,
	changed: Athlete,
	wanted: { ms: number; by: string }
): CardState {
	return changedRegisters(state, before && valuesOf(before), valuesOf(changed), wanted);
}

/**
 * What a card says that was written by a page without stamps. It hands on whatever it holds: of that only what was
 * changed there counts as said, as far as that can be told. What it lacks is not told, and never taken away.
 *
 * @param earlier the card that the same machine wrote before, if it is known
 */
export function saidWithoutStamps(
	state: CardState,
	card: Athlete,
	stamp: Stamp,
	earlier?: { card: Athlete; at: string }
): CardState {
	const before = earlier && valuesOf(earlier.card);
	const said: CardState = {};
	for (const [register, value] of valuesOf(card)) {
		const known = state[register] ?? [];
		if (known.some((one) => isSame(one.value, value))) continue;
		if (
			before
				? isSame(before.get(register), value)
				: known.some(({ was }) => was?.some((one) => isSame(one, value)))
		)
			continue;
		const knew: Record<string, string> = earlier ? { [stamp.by]: earlier.at } : {};
		for (const one of known)
			if (before && isSame(before.get(register), one.value))
				Object.assign(knew, one.knew, { [one.by]: one.at });
		said[register] = [{ value, ...stamp, ...(Object.keys(knew).length > 0 && { knew }) }];
	}
	return said;
}

/** The card that a state shows, or why it shows none. Values come from files, so the whole is checked. */
export function cardOf(id: string, state: CardState, changedAt?: string): Checked<Athlete> {
	const card: Loose = { id };
	const lists: { weights: Loose[]; olderThresholds: Loose[] } = { weights: [], olderThresholds: [] };
	for (const register of Object.keys(state).sort()) {
		const value = state[register]![0]?.value;
		if (value === undefined) continue;
		if (register.startsWith(weights)) lists.weights.push(value as Loose);
		else if (register.startsWith(thresholds)) lists.olderThresholds.push(value as Loose);
		else if (register in together) Object.assign(card, value);
		else card[register] = value;
	}
	takeThresholdsBeside(state, lists.olderThresholds);
	const days = state.noSparringUntil?.flatMap(({ value }) => (typeof value === 'string' ? value : []));
	// Of two stops that were noted unaware of each other the longer one stands.
	if (card.noSparringUntil !== undefined) card.noSparringUntil = days?.sort().at(-1);
	for (const [name, list] of Object.entries(lists))
		if (list.length > 0)
			card[name] = list.sort((one, other) => (String(one.date ?? '') < String(other.date ?? '') ? -1 : 1));
	if (card.weightKg === lastWeight) {
		if (lists.weights.length > 0) card.weightKg = lists.weights.at(-1)!.kg;
		else delete card.weightKg;
	}
	if (changedAt !== undefined) card.changedAt = changedAt;
	return check(athleteSchema, card);
}

/** A threshold that another laptop found at the same time is one that held, too. */
function takeThresholdsBeside(state: CardState, older: Loose[]): void {
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

/** A card as it is kept, with all that is known of who said what of it; undefined where there is no sound one. */
export function keptCard(
	storedCard: unknown,
	storedState: unknown
): { card: Athlete; state: CardState } | undefined {
	const { value: card } = check(athleteSchema, storedCard);
	if (!card) return undefined;
	const { value: state } = check(registersSchema, storedState);
	if (!state) return { card, state: unstamped(card) };
	const shown = cardOf(card.id, state).value;
	// A window with an older version of this page writes the card alone.
	const isElsewhere = !shown || textOf([...valuesOf(shown)]) !== textOf([...valuesOf(card)]);
	const ms = Date.parse(card.changedAt ?? new Date(0).toISOString());
	return { card, state: isElsewhere ? changedBy(state, shown, card, { ms, by: '' }) : state };
}

/**
 * A card with what is said of it elsewhere. `isNews`: it looks different for it; who changed it last is no part of its look.
 *
 * @param saidOf what is said, given what is known here
 */
export function joinedCard(
	id: string,
	kept: { card: Athlete; state: CardState } | undefined,
	saidOf: (state: CardState) => CardState,
	changedAt: string | undefined
): { state: CardState; card: Checked<Athlete>; isNews: boolean } {
	const known = kept?.state ?? {};
	const state = joined(known, saidOf(known));
	const card = cardOf(id, state, laterChange(kept?.card.changedAt, changedAt));
	return { state, card, isNews: !kept || !looksAlike(kept.card, card.value) };
}

/** Whether two cards say the same; who changed them when is no part of that. */
export function looksAlike(one: Athlete, other: Athlete | undefined): boolean {
	return textOf({ ...one, changedAt: 0 }) === textOf({ ...other, changedAt: 0 });
}

/** The later of two moments of change; absent where neither is known. */
export function laterChange(one: string | undefined, other: string | undefined): string | undefined {
	return (one ?? '') > (other ?? '') ? one : other;
}

/** Something said of a card that is not shown, because somebody unaware of it said something else later. */
export interface Beside extends Stamp {
	register: string;
	value?: unknown;
}

/** What stands beside the card's values. Thresholds are among those that held before, and not here. */
export function besideOf(state: CardState): Beside[] {
	return Object.entries(state).flatMap(([register, [shown, ...others]]) =>
		register === 'threshold' || register === strapRegister
			? []
			: others
					.filter(({ value }) => !isSame(value, shown?.value))
					.map(({ at, by, value }) => ({ register, at, by, ...(value !== undefined && { value }) }))
	);
}
