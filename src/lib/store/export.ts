import { hashOfText } from '$lib/record/same';
import * as v from 'valibot';
import { jsonIn } from './bounded-json';
import { recordVersion, check } from '$lib/record/check';
import { recordBodySchema, type RecordBody, type SessionRecord } from '$lib/record/body';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema, type RecordHead } from '$lib/record/head';
import { migrated, type Form, type Migration } from '$lib/record/migrations';
import type { FoldedEdit } from '$lib/record/edit';

export const sessionFormat = 'corner-minute session';

// Far above any real session (a day with four packets a second) and far below what would hang the page.
const mostCharacters = 16_000_000;
const mostReadings = 400_000;
const mostIntervals = 2_000_000;

/**
 * A session as JSON text for other programs and for coming back: plain arrays, described by the JSON Schema
 * in static/session.schema.json.
 */
export function sessionJson({ head, body }: SessionRecord, edit: FoldedEdit = {}): string {
	const { version, ...headMembers } = head;
	const columns = Object.fromEntries(columnNames.map((name) => [name, Array.from(body[name])]));
	return JSON.stringify({
		format: sessionFormat,
		version,
		head: headMembers,
		readings: { firstMs: body.firstMs, ...columns },
		edit
	});
}

/** The columns of a file: the highest whole number that each may hold, and how many. */
export const fileColumns = {
	stepMs: [0xffff_ffff, mostReadings],
	bpm: [0xffff, mostReadings],
	flags: [0xff, mostReadings],
	rrCount: [0xff, mostReadings],
	rr1024: [0xffff, mostIntervals],
	energyKJ: [0xffff, mostReadings]
} as const;

const columnNames = Object.keys(fileColumns) as (keyof typeof fileColumns)[];

export type SessionImport =
	{ status: 'read'; record: SessionRecord; edit: FoldedEdit } | { status: 'refused'; problem: string };

/**
 * The session in a text that `sessionJson` wrote. Anything else is refused with a plain sentence; never
 * throws, and takes over nothing but the members it knows. A text of over 16 million characters is not
 * even parsed. What an older version wrote is led to today's form by the steps that lead what lies in the store.
 */
export function parseSessionJson(text: string, migrations?: readonly Migration[]): SessionImport {
	const json = jsonIn(text, 'session', mostCharacters);
	if (json.problem !== undefined) return refused(json.problem);
	const content = json.value;
	if (!isObject(content) || content.format !== sessionFormat)
		return refused('This file is not a session of Corner Minute. Nothing of it was read.');
	const envelope = check(envelopeSchema, content);
	if (envelope.problem !== undefined) return refused(envelope.problem);
	const { version, head: headMembers, readings: columns, edit: editMembers } = envelope.value;
	const newHead = migrated('head', { ...headMembers, version }, migrations);
	if (newHead.problem !== undefined) return refused(newHead.problem);
	const head = check(recordHeadSchema, newHead.value);
	if (head.problem !== undefined) return refused(head.problem);
	const newBody = migrated('body', { ...typed(columns), version }, migrations);
	if (newBody.problem !== undefined) return refused(newBody.problem);
	const readings = check(v.object({ readings: readingsSchema }), { readings: listed(newBody.value) });
	if (readings.problem !== undefined) return refused(readings.problem);
	const body = check(recordBodySchema, bodyOf(readings.value.readings));
	if (body.problem !== undefined) return refused(body.problem);
	// A correction's time matters only among several; a file holds them folded into one.
	const edit = check(recordEditSchema, { ...editMembers, at: head.value.startedAt });
	if (edit.problem !== undefined) return refused(edit.problem);
	const { at, ...folded } = edit.value;
	return { status: 'read', record: { head: head.value, body: body.value }, edit: folded };
}

function refused(problem: string): SessionImport {
	return { status: 'refused', problem };
}

const column = (most: number, mostEntries: number) =>
	v.custom<number[]>(
		(value) =>
			Array.isArray(value) &&
			value.length <= mostEntries &&
			value.every((entry) => Number.isInteger(entry) && entry >= 0 && entry <= most),
		`a column holds at most ${mostEntries} whole numbers from 0 to ${most}`
	);

const readingsSchema = v.object({
	firstMs: v.pipe(v.number(), v.safeInteger()),
	stepMs: column(...fileColumns.stepMs),
	bpm: column(...fileColumns.bpm),
	flags: column(...fileColumns.flags),
	rrCount: column(...fileColumns.rrCount),
	rr1024: column(...fileColumns.rr1024),
	energyKJ: column(...fileColumns.energyKJ)
});

const objectSchema = v.custom<object>(isObject, 'this is not an object');

const envelopeSchema = v.object({
	version: v.pipe(v.number(), v.safeInteger()),
	head: objectSchema,
	readings: objectSchema,
	edit: objectSchema
});

function isObject(value: unknown): value is Record<string, unknown> {
	return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The columns of a file in the form in which they lie in the store, which is the one that migrations know. */
function typed(columns: object): Form {
	return Object.fromEntries(Object.entries(columns).map(([name, entries]) => [name, typedColumn(entries)]));
}

function typedColumn(entries: unknown): unknown {
	if (!v.is(column(0xffff_ffff, mostIntervals), entries)) return entries;
	const most = entries.reduce((highest, entry) => Math.max(highest, entry), 0);
	return (most > 0xffff ? Uint32Array : most > 0xff ? Uint16Array : Uint8Array).from(entries);
}

/** And back, so that each column can be checked and given the width that it has today. */
function listed(body: unknown): Form {
	return Object.fromEntries(
		Object.entries(body as Form).map(([name, entries]) => [
			name,
			ArrayBuffer.isView(entries) ? Array.from(entries as Uint32Array) : entries
		])
	);
}

function bodyOf(readings: v.InferOutput<typeof readingsSchema>): RecordBody {
	const { firstMs, stepMs, bpm, flags, rrCount, rr1024, energyKJ } = readings;
	return {
		version: recordVersion,
		firstMs,
		stepMs: stepMs.some((step) => step > 0xffff) ? Uint32Array.from(stepMs) : Uint16Array.from(stepMs),
		bpm: bpm.some((rate) => rate > 0xff) ? Uint16Array.from(bpm) : Uint8Array.from(bpm),
		flags: Uint8Array.from(flags),
		rrCount: Uint8Array.from(rrCount),
		rr1024: Uint16Array.from(rr1024),
		energyKJ: Uint16Array.from(energyKJ)
	};
}

const longestNamePart = 30;

/**
 * What the file of an exported session is called: `corner-minute-2026-03-02-18-30-Nerea-1x8fk2a.csv`, by day and time
 * here. The sign at its end is the record's own: two corners of a minute may bear the same name.
 *
 * @param ending with its dot
 * @param name of the athlete by now; that of the day where it is not given
 */
export function exportName(head: Exported, ending: string, name = head.athlete.name): string {
	// Letters and figures alone, whole ones: whatever else a name holds, some file system may refuse.
	const letters = Array.from(name.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}]+/gu, '-'));
	const who =
		letters
			.slice(0, longestNamePart)
			.join('')
			.replace(/^-+|-+$/g, '') || 'unknown';
	return `corner-minute-${momentOf(head)}-${who}-${signOf(head.id)}${ending}`;
}

/** The same of a file that names nobody: `corner-minute-2026-03-02-18-30-1x8fk2a.rr.txt`. */
export const namelessExport = (head: Exported, ending: string) =>
	`corner-minute-${momentOf(head)}-${signOf(head.id)}${ending}`;

type Exported = Pick<RecordHead, 'id' | 'startedAt' | 'athlete'>;

function momentOf({ startedAt }: Exported): string {
	const at = new Date(startedAt);
	const here = new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
	return here.replace(/[:T]/g, '-');
}

/** A short sign of an id. */
const signOf = (id: string) => hashOfText(id).toString(36).padStart(7, '0');
