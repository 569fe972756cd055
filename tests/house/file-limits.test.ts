import { describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import { makeHead, makeReading, makeRecord } from '../store/builders';
import { packReadings } from '$lib/record/columns';
import { readRecording } from '$lib/review/formats/read-recording';
import { readRegisterTable } from '$lib/review/register-csv';
import { backupFormat, parseBackup } from '$lib/store/backup/form';
import { parseSessionJson, sessionJson } from '$lib/store/export';
import { tooLarge } from '$lib/store/folder/text';
import { parsePlanFragment, parsePlanJson, planFragment, planJson } from '$lib/store/shared-plan';
import type { SharedName } from '$lib/store/folder/names';
import { makePlan } from '../rounds/plans';

/** What README says that a file may be, and what is said of a file of that size: undefined where it is taken. */
interface Limit {
	file: string;
	most: number;
	of: string;
	said: (size: number) => Promise<string | undefined> | string | undefined;
	/** Of a file that is larger by one. */
	sentence: RegExp;
}

const plan = makePlan();
const fixture = readFileSync('tests/fixtures/backup-1.json', 'utf8');

const refusal = (answer: object) =>
	'problem' in answer ? (answer.problem as string | undefined) : undefined;
const backupOf = (text: string) => parseBackup(text, () => Promise.resolve()).then(refusal);
const ofSession = (text: string) => refusal(parseSessionJson(text));
const recording = (text: string) => refusal(readRecording(text));
const register = (text: string) => {
	const table = readRegisterTable(text, [{ id: 'ath-1', name: 'Nerea' }], '2026-03-10');
	return table.status === 'refused' ? table.problem : table.problems.at(-1)?.problem;
};
const registerHead = 'day,athlete,minutes,activity,effort\n';
const inFolder = (kind: SharedName['kind']) => (bytes: number) => tooLarge({ kind } as SharedName, bytes);

/** A day each from 1900 on, so that no row is there twice. */
const day = (i: number) => new Date(Date.UTC(1900, 0, 1 + i)).toISOString().slice(0, 10);

/** A link of so many characters after its mark: four for three bytes, and blanks of JSON in front. */
function linkOf(size: number): string {
	const mark = '#plan=';
	const text = Buffer.from(planFragment(plan).slice(mark.length), 'base64url').toString();
	return (
		mark +
		Buffer.from(text.padStart(Math.floor((size * 3) / 4)))
			.toString('base64url')
			.padEnd(size, 'A')
	);
}

const limits: Limit[] = [
	{
		file: 'backup (JSON)',
		most: 200_000_000,
		of: 'characters',
		said: (size) => backupOf(fixture.padEnd(size)),
		sentence: /^This file is larger than any backup can be, so it was not read\.$/
	},
	{
		file: 'backup (JSON)',
		most: 200_000,
		of: 'entries',
		said: (size) => {
			const entries = Array.from({ length: size }, (_, i) => [`setting/n${i}`, 1]);
			const madeAt = '2026-03-01T18:30:00.000Z';
			return backupOf(JSON.stringify({ format: backupFormat, version: 1, madeAt, entries }));
		},
		sentence: /^This backup has more than 200000 entries, so it was not read\.$/
	},
	{
		file: 'session (JSON)',
		most: 16_000_000,
		of: 'characters',
		said: (size) => ofSession(sessionJson(makeRecord()).padEnd(size)),
		sentence: /^This file is larger than any session can be, so it was not read\.$/
	},
	{
		file: 'session (JSON)',
		most: 400_000,
		of: 'readings',
		said: (size) => {
			const readings = Array.from({ length: size }, (_, i) => makeReading({ ms: i * 1000, rrMs: [] }));
			return ofSession(sessionJson({ head: makeHead(), body: packReadings(readings) }));
		},
		sentence: /a column holds at most 400000 whole numbers/
	},
	{
		file: 'recording (CSV, RR text)',
		most: 20_000_000,
		of: 'characters',
		said: (size) => recording('time,hr\n0,120\n1,121\n'.padEnd(size)),
		sentence: /^The file is larger than any recording can be, so it was not read\./
	},
	{
		file: 'recording (CSV, RR text)',
		most: 200_000,
		of: 'lines of a run',
		said: (size) => recording(`time,hr\n${'0,120\n'.repeat(size - 1)}`),
		sentence: /^The file has over 200000 rows, more than any run has\./
	},
	{
		file: 'recording (CSV, RR text)',
		most: 400_000,
		of: 'RR intervals',
		said: (size) => recording('800\n'.repeat(size)),
		sentence: /^The file has over 400,000 lines, more than any recording has\./
	},
	{
		file: 'recording (CSV, RR text)',
		most: 1000,
		of: 'columns',
		said: (size) => recording(`time,hr${','.repeat(size - 2)}\n0,120\n1,121\n`),
		sentence: /^Line 1 has over 1000 columns, more than any recording has\./
	},
	{
		file: 'register (CSV)',
		most: 5_000_000,
		of: 'characters',
		said: (size) => register(`${registerHead}2026-03-01,Nerea,60,pads,5\n`.padEnd(size)),
		sentence: /^The file is larger than any register can be, so it was not read\./
	},
	{
		file: 'register (CSV)',
		most: 25_000,
		of: 'rows',
		said: (size) =>
			register(registerHead + Array.from({ length: size }, (_, i) => `${day(i)},Nerea,60,pads,5\n`).join('')),
		sentence:
			/^Line 25002 and those after it: a table has at most 25,000 rows here\. Take the rest in with a second file\.$/
	},
	{
		file: 'register (CSV)',
		most: 1000,
		of: 'columns',
		said: (size) => register(`${registerHead.trim()}${','.repeat(size - 5)}\n2026-03-01,Nerea,60,pads,5\n`),
		sentence: /^The first line has over 1000 columns, more than any register has\./
	},
	{
		file: 'plan (JSON)',
		most: 64_000,
		of: 'characters',
		said: (size) => parsePlanJson(planJson(plan).padEnd(size)).problem,
		sentence: /^This file is larger than any plan can be, so it was not read\.$/
	},
	{
		file: 'plan (link)',
		most: 16_000,
		of: 'characters',
		said: (size) => parsePlanFragment(linkOf(size)).problem,
		sentence: /^This link is longer than any plan’s, so it was not read\. Ask for the plan as a file\.$/
	},
	...(
		[
			['session', 48_000_000, 'bytes of a session'],
			['plan', 500_000, 'of a plan'],
			['athlete', 2_000_000, 'of any other']
		] as const
	).map(([kind, most, of]) => ({
		file: 'file in the shared folder',
		most,
		of,
		said: inFolder(kind),
		sentence: /^It is larger than any such file can be, so it was not opened\.$/
	}))
];

const wordsOf = ({ most, of }: Limit) => `${most.toLocaleString('en')} ${of}`;

describe('what a file may cost', () => {
	it.each(limits.map((limit) => [`${wordsOf(limit)} of a ${limit.file}`, limit] as const))(
		'is %s, and not one more',
		async (_, { most, said, sentence }) => {
			expect(await said(most)).toBeUndefined();
			expect(await said(most + 1)).toMatch(sentence);
		},
		120_000
	);

	it('stands in README as it is', () => {
		const readme = readFileSync('README.md', 'utf8').replaceAll(/ +/g, ' ');
		for (const file of new Set(limits.map((limit) => limit.file))) {
			const most = limits.filter((limit) => limit.file === file);
			expect(readme).toContain(`| ${file} | ${most.map(wordsOf).join(', ')} |`);
		}
	});
});
