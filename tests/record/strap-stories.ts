import fc from '../by-chance';
import type { Entrant, JournalEntry } from '$lib/record/journal';
import { makeStart, readingEntry } from '../store/builders';

const happenings = [
	'packet',
	'signal lost',
	'hand over',
	'undo',
	'join',
	'join bare',
	'put on',
	'another strap',
	'swap',
	'leave'
] as const;

export interface Story {
	/** So many begin with a strap, and so many without. */
	strapped: number;
	bare: number;
	steps: readonly { what: (typeof happenings)[number]; one: number; other: number; stepMs: number }[];
}

/** What may happen to straps in a session. Steps that cannot be taken at their moment are left out when it is played. */
export const anyStory: fc.Arbitrary<Story> = fc.record({
	strapped: fc.integer({ min: 1, max: 3 }),
	bare: fc.nat(3),
	steps: fc.array(
		fc.record({
			what: fc.oneof(
				{ weight: 4, arbitrary: fc.constantFrom(...happenings) },
				{ weight: 3, arbitrary: fc.constantFrom('packet' as const, 'hand over' as const, 'undo' as const) }
			),
			one: fc.nat(40),
			other: fc.nat(40),
			stepMs: fc.integer({ min: 1, max: 3000 })
		}),
		{ maxLength: 40 }
	)
});

/** From `ms` on the strap was on this corner's chest; on nobody's where they took it along. */
interface Moved {
	ms: number;
	strap: string;
	corner: number | undefined;
}

export interface Played {
	/** As a session journals it. */
	entries: JournalEntry[];
	/** Every packet that was heard. */
	packets: { ms: number; strap: string }[];
	/** Where each strap went; a hand-over that was undone is none of it. */
	moves: Moved[];
	/** Who has which strap on at the end. */
	worn: Map<string, number>;
	/** Which of the places at Start a strap has: it goes with the strap, but for two that answered for the wrong one. */
	places: Map<string, number>;
}

const recordId = (corner: number) => `record-${corner}`;
const entrant = (corner: number, strapName?: string): Entrant => ({
	recordId: recordId(corner),
	athlete: { athleteId: `athlete-${corner}`, name: `Boxer ${corner}` },
	...(strapName !== undefined && { strapName }),
	practice: false
});

/** Plays a story as a session would: a packet goes to whoever its strap answers for at that moment. */
export function playedBy({ strapped, bare, steps }: Story): Played {
	const worn = new Map(Array.from({ length: strapped }, (_, i) => [`First ${i}`, i]));
	const places = new Map(worn);
	const moves: Moved[] = [...worn].map(([strap, corner]) => ({ ms: -Infinity, strap, corner }));
	const corners = [...worn].map(([strap, corner]) => entrant(corner, strap));
	for (let i = 0; i < bare; i++) corners.push(entrant(corners.length));
	// Each strap has a list of turns of its own.
	const turns = [...worn.values()].map((who) => [{ who, rounds: [{ from: 1, to: 3 }] }]);
	const entries: JournalEntry[] = [{ kind: 'start', start: makeStart({ corners, turns }) }];
	const packets: Played['packets'] = [];
	const present = new Set(corners.keys());
	let count = corners.length;
	let made = 0;
	let ms = 0;
	let undoable: { from: number; to: number; strap: string } | undefined;
	const place = (strap: string, at: number | undefined) =>
		at === undefined ? places.delete(strap) : places.set(strap, at);
	const put = (strap: string, corner: number | undefined) => {
		moves.push({ ms, strap, corner });
		if (corner === undefined) worn.delete(strap);
		else worn.set(strap, corner);
	};
	for (const { what, one, other, stepMs } of steps) {
		ms += stepMs;
		const pick = <T>(among: Iterable<T>, by: number): T | undefined =>
			[...among][by % Math.max(1, [...among].length)];
		const [strap, corner] = pick(worn, one)!;
		const free = pick(
			[...present].filter((who) => ![...worn.values()].includes(who)),
			other
		);
		const isNew = { practice: false, strapName: `Another ${made}` };
		switch (what) {
			case 'packet':
				packets.push({ ms, strap });
				entries.push(readingEntry({ corner, ms }));
				continue;
			case 'signal lost': {
				// It is noticed late: it was lost a while ago, though not before this chest.
				const { ms: sinceMs } = moves.findLast((moved) => moved.strap === strap)!;
				const lostMs = Math.max(Math.max(sinceMs, 0) + 1, ms - 50 * other);
				if (lostMs <= ms) entries.push({ kind: 'event', corner, event: { kind: 'signal lost', ms: lostMs } });
				continue;
			}
			case 'hand over':
				if (free === undefined) continue;
				entries.push({
					kind: 'hand over',
					corner: free,
					from: corner,
					ms,
					strapName: strap,
					practice: false
				});
				put(strap, free);
				undoable = { from: corner, to: free, strap };
				continue;
			case 'undo':
				if (!undoable) continue;
				entries.push({ kind: 'hand over undone', corner: undoable.to, from: undoable.from, ms });
				moves.pop();
				worn.set(undoable.strap, undoable.from);
				break;
			case 'join bare':
				entries.push({ kind: 'join', corner: count, ms, entrant: entrant(count) });
				present.add(count++);
				continue;
			case 'join':
				entries.push({ kind: 'join', corner: count, ms, entrant: entrant(count, isNew.strapName) });
				present.add(count);
				put(`Another ${made++}`, count++);
				break;
			case 'put on':
				if (free === undefined) continue;
				entries.push({ kind: 'hand over', corner: free, ms, ...isNew });
				put(`Another ${made++}`, free);
				break;
			case 'another strap':
				entries.push({ kind: 'strap', corner, change: { ms, ...isNew } });
				place(isNew.strapName, places.get(strap));
				put(strap, undefined);
				put(`Another ${made++}`, corner);
				break;
			case 'swap': {
				const [otherStrap, otherCorner] = pick(worn, other)!;
				if (otherCorner === corner) continue;
				const [ofOne, ofOther] = [places.get(strap), places.get(otherStrap)];
				place(strap, ofOther);
				place(otherStrap, ofOne);
				for (const [who, strapName] of [[corner, otherStrap] as const, [otherCorner, strap] as const]) {
					entries.push({
						kind: 'strap',
						corner: who,
						change: { ms, strapName, practice: false, swapped: true }
					});
					put(strapName, who);
				}
				break;
			}
			case 'leave': {
				const gone = pick(present, other)!;
				const theirs = [...worn].find(([, who]) => who === gone)?.[0];
				if (theirs !== undefined && worn.size === 1) continue;
				entries.push({ kind: 'leave', corner: gone, ms });
				present.delete(gone);
				if (theirs !== undefined) put(theirs, undefined);
				break;
			}
		}
		undoable = undefined;
	}
	return { entries, packets, moves, worn, places };
}

/** The moments of the packets in each record, from nothing but who had which strap on when. */
export function readingsByHand({ packets, moves }: Played): Map<string, number[]> {
	const records = new Map<string, number[]>();
	for (const { ms, strap } of packets) {
		const wearer = moves.findLast((moved) => moved.strap === strap && moved.ms < ms)!.corner!;
		records.set(recordId(wearer), [...(records.get(recordId(wearer)) ?? []), ms]);
	}
	return records;
}
