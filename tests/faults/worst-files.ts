import { createHash } from 'node:crypto';
import { csvText } from '$lib/review/formats/csv-text';
import { readRecording } from '$lib/review/formats/read-recording';
import { sessionColumns } from '$lib/review/formats/session-csv';
import { readRegisterTable, tableColumns } from '$lib/review/register-csv';
import { parseBackup } from '$lib/store/backup/form';
import { parseSessionJson } from '$lib/store/export';
import { readShared } from '$lib/store/folder/text';
import { parsePlanFragment, parsePlanJson } from '$lib/store/shared-plan';

/** What reading the worst of a kind of file comes to. */
export interface FileCost {
	kind: string;
	/** The shape of text that costs the most. */
	worst: string;
	shapes: number;
	/** Of a processor, not of the clock: so a busy machine tells the same. */
	cpuMs: number;
	limitMs: number;
	faults: string[];
}

/** Texts of about `size` characters, each of which is the most of one sort of work. */
const jsonShapes = (size: number): Record<string, () => string> => ({
	'brackets alone': () => '['.repeat(size),
	'empty lists': () => `[${'[],'.repeat(Math.min(size / 3 - 1, 11_900_000))}[]]`,
	'members, each of another name': () => `[${membersOf(Math.min(size / 20, 11_800_000), 100_000)}]`,
	'one object of such members': () => membersOf(Math.min(size / 20, 10_000_000), Infinity),
	'one-digit numbers': () => `[${'1,'.repeat(size / 2 - 1)}1]`,
	'one text': () => `"${'\\"'.repeat(size / 2 - 1)}"`
});

function membersOf(count: number, ofOne: number): string {
	const parts: string[] = [];
	for (let i = 0; i < count; i++)
		parts.push(`${i === 0 ? '{' : i % ofOne === 0 ? '},{' : ','}"${i.toString(36)}":1`);
	return `${parts.join('')}}`;
}

const each = (shapes: Record<string, () => string>, wrap: (text: string) => string) =>
	Object.fromEntries(Object.entries(shapes).map(([shape, make]) => [shape, () => wrap(make())]));

const linked = (text: string) => `#plan=${Buffer.from(text).toString('base64url')}`;

/** As the folder has them: an object, and at its end the checksum of what stands before it. */
function sealed(text: string): string {
	const content = `{"told":${text}`;
	return `${content},"sha256":"${createHash('sha256').update(content).digest('hex')}"}\n`;
}

const tableShapes = (size: number, header: string): Record<string, () => string> => ({
	'line ends alone': () => `${header}\n${'\n'.repeat(size - header.length - 1)}`,
	'one line of separators': () => `${header}${','.repeat(size - header.length - 4)}\n0,1`,
	'one quoted cell': () => `${header}\n"${'""'.repeat((size - header.length - 3) / 2)}"`,
	'blanks before anything': () => ' \n'.repeat(size / 2)
});

const filled = (size: number, header: string, row: string) =>
	`${header}\n${row.repeat(Math.min(Math.floor((size - header.length) / row.length), 380_000))}`;

/**
 * Reads the worst files of every kind that the limits let in, or `share` of their size, 0 to 1. Each is read or refused
 * with a sentence, and costs what it costs.
 */
export async function readWorstFiles(share: number): Promise<FileCost[]> {
	const of = (most: number) => Math.floor(most * share);
	const athletes = [{ id: 'ath-1', name: 'Nerea' }];
	const register = (text: string) => readRegisterTable(text, athletes, '2026-03-10');
	const tableRow = csvText([['2026-03-01', 'Nerea', 60, 'pads', 5]]);
	const sessionRow = '1,work,1,150,contact,400 400,1,false,pads,,false\n';
	return [
		await costOf('backup', 60_000, jsonShapes(of(200_000_000)), (text) =>
			parseBackup(text, () => Promise.resolve())
		),
		await costOf('session', 10_000, jsonShapes(of(16_000_000)), parseSessionJson),
		await costOf('plan', 1000, jsonShapes(of(64_000)), parsePlanJson),
		await costOf('plan (link)', 1000, each(jsonShapes(of(11_900)), linked), parsePlanFragment),
		await costOf(
			"session's file in the shared folder",
			10_000,
			each(jsonShapes(of(47_000_000)), sealed),
			(text) => readShared({ kind: 'session', id: 'a' }, text)
		),
		await costOf('other file in the shared folder', 10_000, each(jsonShapes(of(1_990_000)), sealed), (text) =>
			readShared({ kind: 'athlete', id: 'a', at: '2026-03-02T18:30:00.000Z', by: 'b' }, text)
		),
		await costOf(
			'recording',
			20_000,
			{
				...tableShapes(of(20_000_000), 'time,hr'),
				'rows of a run': () => filled(of(3_000_000), 'time,hr', '0:00:01,150\n'),
				'rows of a session': () => filled(of(20_000_000), sessionColumns.join(), sessionRow),
				'RR intervals': () => filled(of(20_000_000), '# told', '800\n')
			},
			readRecording
		),
		await costOf(
			'register',
			10_000,
			{
				...tableShapes(of(5_000_000), tableColumns.join()),
				rows: () => filled(of(5_000_000), tableColumns.join(), tableRow)
			},
			register
		)
	];
}

async function costOf(
	kind: string,
	limitMs: number,
	shapes: Record<string, () => string>,
	read: (text: string) => unknown
): Promise<FileCost> {
	const cost: FileCost = {
		kind,
		worst: '',
		shapes: Object.keys(shapes).length,
		cpuMs: 0,
		limitMs,
		faults: []
	};
	for (const [shape, make] of Object.entries(shapes)) {
		const text = make();
		const before = process.cpuUsage();
		try {
			await read(text);
		} catch (error) {
			cost.faults.push(`${kind}, ${shape}: ${String(error)}`);
		}
		const { user, system } = process.cpuUsage(before);
		const cpuMs = (user + system) / 1000;
		if (cpuMs > cost.cpuMs) Object.assign(cost, { worst: shape, cpuMs });
	}
	return cost;
}
