import * as v from 'valibot';
import { sessionJson, parseSessionJson } from '../export';
import { jsonText, Refusal, revived } from '../plain-json';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import { check, idSchema, type Checked } from '$lib/record/check';
import { recordEditSchema, type RecordEdit } from '$lib/record/edit';
import { cardOf } from '$lib/record/card-registers';
import { checkedDay, type StoredDay } from '$lib/record/day';
import { checkedPlanState } from '$lib/record/own-plan';
import { latestAt, registersSchema, type Registers } from '$lib/record/registers';
import type { DaysName, FateKind, SessionName, SharedName, StampedName } from './names';
import type { SessionRecord } from '$lib/record/body';

const format = 'corner-minute folder';
const version = 1;

/** A character takes three bytes at most; a session has 16 million characters at most, a plan 10,000 in each of eight words. */
const mostBytes = { session: 48_000_000, plan: 500_000, other: 2_000_000 };

/** What a file in the shared folder holds. */
export type SharedContent =
	| { kind: 'session'; record: SessionRecord }
	| { kind: 'edit'; edit: RecordEdit }
	| SharedCard
	| { kind: 'days'; days: Map<string, StoredDay> }
	| { kind: 'plan'; said: Registers }
	| { kind: FateKind; into?: string };

/** A card, and who said what of it when; absent where a page wrote it that knows no stamps. */
export interface SharedCard {
	kind: 'athlete';
	athlete: Athlete;
	said?: Registers;
}

/** `isCut`: the file is not whole, as while it is being copied; it may be whole the next time. */
export type SharedReading = Checked<SharedContent> & { isCut?: true };

/** The text of a session's file: its ordinary JSON form, sealed. */
export function sessionText(record: SessionRecord): Promise<string> {
	return sealed(sessionJson(record));
}

/** The text of any other file, sealed; `part` is what it holds. */
export function stampedText(
	name: StampedName,
	part: { edit?: RecordEdit; athlete?: Athlete; said?: Registers; into?: string } = {}
): Promise<string> {
	const { kind, id, at, by } = name;
	return sealed(jsonText({ format, version, kind, id, at, by, ...part }));
}

/** The text of a file of days, sealed; each by its date. */
export function daysText(name: DaysName, days: ReadonlyMap<string, StoredDay>): Promise<string> {
	return sealed(jsonText({ format, version, ...name, days: Object.fromEntries(days) }));
}

/** The text of the word by which a machine says that it looks into the folders of the years; its name says all. */
export function wordText(by: string): Promise<string> {
	return sealed(jsonText({ format, version, kind: 'knows-years', by }));
}

/** Why a file of this size is not even opened. */
export function tooLarge({ kind }: SharedName, bytes: number): string | undefined {
	const most = kind === 'session' || kind === 'plan' ? mostBytes[kind] : mostBytes.other;
	return bytes > most ? 'It is larger than any such file can be, so it was not opened.' : undefined;
}

/**
 * What a file holds, if it is whole and is what its name says. Anything else is a problem in a plain sentence;
 * never throws, and takes over nothing but the members it knows.
 */
export async function readShared(name: SharedName, text: string): Promise<SharedReading> {
	const seal = await sealOf(text);
	if (seal === 'absent')
		return { problem: 'It is not whole: it is still being copied, or was cut short.', isCut: true };
	if (seal === 'broken')
		return { problem: 'It is damaged: its content does not match its checksum.', isCut: true };
	return name.kind === 'session' ? sessionIn(name, text) : stampedIn(name, text);
}

function sessionIn({ id }: SessionName, text: string): SharedReading {
	const read = parseSessionJson(text);
	if (read.status === 'refused') return { problem: read.problem };
	const { head } = read.record;
	if (head.id !== id) return { problem: 'It holds another session than its name says.' };
	if (head.practice || head.example)
		return { problem: 'It holds a simulated session, and those do not belong in a shared folder.' };
	return { value: { kind: 'session', record: read.record } };
}

const stampedSchema = v.object({
	format: v.literal(format),
	version: v.literal(version),
	kind: v.string(),
	id: v.string(),
	at: v.string(),
	by: v.string(),
	edit: v.optional(recordEditSchema),
	athlete: v.optional(athleteSchema),
	said: v.optional(registersSchema),
	into: v.optional(idSchema),
	month: v.optional(v.string()),
	days: v.optional(v.record(v.pipe(v.string(), v.isoDate()), v.unknown()))
});

function stampedIn(name: StampedName | DaysName, text: string): SharedReading {
	let content: unknown;
	try {
		content = revived(JSON.parse(text));
	} catch (error) {
		return { problem: error instanceof Refusal ? error.message : 'It is not JSON.' };
	}
	const { value, problem } = check(stampedSchema, content);
	if (problem !== undefined) return { problem };
	const isOwn =
		value.kind === name.kind && value.id === name.id && value.at === name.at && value.by === name.by;
	if (!isOwn) return { problem: 'It holds something else than its name says.' };
	if (name.kind === 'days') return daysIn(name, value);
	const { kind } = name;
	if (kind === 'edit')
		return value.edit?.at === name.at
			? { value: { kind, edit: value.edit } }
			: { problem: 'The correction in it is missing or of another moment.' };
	if (kind === 'athlete') {
		if (value.athlete?.id !== name.id) return { problem: 'The card in it is missing or somebody else’s.' };
		if (value.athlete.example) return { problem: 'It holds the card of an invented athlete.' };
		const { athlete, said } = value;
		if (!said) return { value: { kind, athlete } };
		const shown = cardOf(athlete.id, said, athlete.changedAt);
		return shown.problem === undefined
			? { value: { kind, athlete: shown.value, said } }
			: { problem: `What is said of the card in it comes to none. ${shown.problem}` };
	}
	if (kind === 'plan') return planIn(name, value.said);
	return { value: { kind, ...(value.into !== undefined && { into: value.into }) } };
}

function planIn({ at }: StampedName, told: Registers | undefined): SharedReading {
	const { value: said, problem } = checkedPlanState(told);
	if (problem !== undefined) return { problem: `The plan in it cannot be read. ${problem}` };
	if (latestAt(said) > at) return { problem: 'It says something later than its name does.' };
	return { value: { kind: 'plan', said } };
}

function daysIn({ month }: DaysName, told: v.InferOutput<typeof stampedSchema>): SharedReading {
	if (told.month !== month) return { problem: 'It holds something else than its name says.' };
	const days = new Map<string, StoredDay>();
	for (const [date, stored] of Object.entries(told.days ?? {})) {
		const { value, problem } = checkedDay(stored);
		if (problem !== undefined) return { problem: `The day ${date} in it cannot be read. ${problem}` };
		if (!date.startsWith(`${month}-`)) return { problem: `The day ${date} in it is of another month.` };
		days.set(date, value);
	}
	return { value: { kind: 'days', days } };
}

// The seal is the last member of the object, so a text that was cut anywhere has lost it, and what is in
// front of it is sealed as it stands, whatever order another program would write the members in.
const sealAtEnd = /,"sha256":"([\da-f]{64})"\}\n$/;

async function sealed(object: string): Promise<string> {
	const content = object.slice(0, -1);
	return `${content},"sha256":"${await sha256(content)}"}\n`;
}

async function sealOf(text: string): Promise<'sound' | 'broken' | 'absent'> {
	const found = sealAtEnd.exec(text.slice(-100));
	if (!found) return 'absent';
	const content = text.slice(0, text.length - found[0].length);
	return (await sha256(content)) === found[1] ? 'sound' : 'broken';
}

async function sha256(text: string): Promise<string> {
	const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
	return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
