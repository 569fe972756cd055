import * as v from 'valibot';
import type { MembersOf } from './check';
import { textOf } from './same';
import { isLater, type Stamp } from './stamp';

const mostBeside = 8;
export const mostBefore = 8;

const instant = v.pipe(v.string(), v.regex(/^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)?$/));
const machine = v.pipe(v.string(), v.maxLength(32));

/**
 * How one card that is changed on several laptops becomes one again. A card is taken apart into *registers*, each of
 * them a member (or members that mean something only together, or one entry of a list), and each register holds every
 * value that no other value of it was written in knowledge of. Joining two states is commutative, associative and
 * idempotent whatever the clocks say: the latest stamp is shown, the others stay beside it until somebody who sees them
 * writes again.
 */
export type Said = v.InferOutput<typeof saidSchema>;

const saidSchema = v.object({
	/** Absent where it was taken away. */
	value: v.optional(v.unknown()),
	at: instant,
	by: machine,
	/** The latest moment of each machine whose word on this register was known to who wrote this one. */
	knew: v.optional(v.record(machine, instant)),
	/** Values that stood here before, newest first: a page that knows no stamps hands them on as if they were new. */
	was: v.optional(v.pipe(v.array(v.unknown()), v.maxLength(mostBefore)))
} satisfies MembersOf<Stamp> & v.ObjectEntries);

/** What is known of one card, by register. Of each register the latest word stands first. */
export type CardState = v.InferOutput<typeof cardStateSchema>;

export const cardStateSchema = v.record(
	v.pipe(v.string(), v.maxLength(120)),
	v.pipe(v.array(saidSchema), v.minLength(1), v.maxLength(mostBeside))
);

/** Everything that is known on either side. */
export function joined(one: CardState, other: CardState): CardState {
	const names = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort();
	return Object.fromEntries(
		names.map((name) => [name, latest([...(one[name] ?? []), ...(other[name] ?? [])])])
	);
}

/** Of all that was said of one register what nothing else was said in knowledge of, the latest first. */
export function latest(all: readonly Said[]): Said[] {
	const isKnownTo = (said: Said, { knew }: Said) =>
		(knew?.[said.by] ?? '') >= said.at && knew?.[said.by] !== undefined;
	const sorted = all
		.filter((said) => !all.some((other) => isKnownTo(said, other)))
		.map((said) => [said, textOf(said)] as const)
		.sort(([one, oneText], [other, otherText]) =>
			isLater(one, other) ? -1 : isLater(other, one) ? 1 : oneText > otherText ? -1 : 1
		);
	// A machine says one thing at a moment; where a profile was copied and two sign with one id, the order of texts decides.
	const kept = sorted.filter(
		([said], i) => !sorted.slice(0, i).some(([before]) => before.at === said.at && before.by === said.by)
	);
	return kept.slice(0, mostBeside).map(([said]) => said);
}

/** The latest moment of everything said of a card. */
export function latestAt(state: CardState, isCounted: (register: string) => boolean = () => true): string {
	let at = '';
	for (const [register, said] of Object.entries(state))
		if (isCounted(register)) for (const one of said) if (one.at > at) at = one.at;
	return at;
}
