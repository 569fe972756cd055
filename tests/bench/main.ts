import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { beatRows } from './beat';
import { bellRows } from './bell';
import { decoderRows } from './decoder';
import { leaveFloor } from './floor';
import { durabilityRows } from './durability';
import { handlerRows } from './handler';
import { historyRows } from './history';
import { lighthouseRows } from './lighthouse';
import { memoryRows } from './memory';
import { serve } from './page';
import { reviewRows } from './review';
import { cornersRows, folderRows } from './scale';
import { squadRows } from './squad';
import { storedRows } from './stored';
import { isMet, tableOf, type Row } from './table';
import { weightRows } from './weight';

const parts: Record<string, (options: { full: boolean }) => Row[] | Promise<Row[]>> = {
	decoder: decoderRows,
	handler: handlerRows,
	stored: storedRows,
	durability: durabilityRows,
	weight: weightRows,
	review: reviewRows,
	history: historyRows,
	squad: squadRows,
	beat: beatRows,
	corners: cornersRows,
	folder: folderRows,
	lighthouse: lighthouseRows,
	memory: memoryRows,
	bell: bellRows
};
/** Those that need no page of ours. */
const withoutPage = ['decoder', 'handler', 'stored', 'durability', 'folder'];

const { values } = parseArgs({
	options: {
		only: { type: 'string' },
		full: { type: 'boolean', default: false },
		/** Puts the table into DEVELOPERS.md. */
		write: { type: 'boolean', default: false }
	}
});
const names = values.only?.split(',') ?? Object.keys(parts);
for (const name of names)
	if (!parts[name]) throw new Error(`There is no "${name}"; --only takes ${Object.keys(parts).join(', ')}.`);

async function measure(name: string): Promise<Row[]> {
	const startMs = performance.now();
	try {
		return await parts[name]!({ full: values.full });
	} catch (problem) {
		// One that fails does not take the others' figures along.
		console.error(problem);
		return [{ row: name, measured: undefined, limit: 0, kind: 'most', unit: '', note: String(problem) }];
	} finally {
		console.error(`${name}: ${((performance.now() - startMs) / 1000).toFixed(0)} s`);
	}
}

const measured: Record<string, Row[]> = {};
const stop = names.every((name) => withoutPage.includes(name)) ? () => {} : await serve();
try {
	// One after the other: a session at many times the pace of life beside it made the bell's output stand still.
	for (const name of names) measured[name] = await measure(name);
} finally {
	stop();
	leaveFloor();
}

const rows = Object.values(measured).flat();
console.log(tableOf(rows));
if (!rows.every(isMet)) process.exitCode = 1;

// Parts may be taken one by one: what was measured of the others stands.
const path = 'test-results/bench.json';
const known = existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as Record<string, Row[]>) : {};
const all = { ...known, ...measured };
mkdirSync('test-results', { recursive: true });
writeFileSync(path, JSON.stringify(all, undefined, '\t'));
if (values.write) {
	const table = tableOf(Object.keys(parts).flatMap((name) => all[name] ?? []));
	const between = /(<!-- measured -->\n)[^]*?(\n<!-- \/measured -->)/;
	const text = readFileSync('DEVELOPERS.md', 'utf8');
	writeFileSync(
		'DEVELOPERS.md',
		text.replace(between, (_, from: string, to: string) => `${from}\n${table}\n${to}`)
	);
}
