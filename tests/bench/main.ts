import { mkdirSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { beatRows } from './beat';
import { bellRows } from './bell';
import { decoderRows } from './decoder';
import { handlerRows } from './handler';
import { historyRows } from './history';
import { lighthouseRows } from './lighthouse';
import { memoryRows } from './memory';
import { serve } from './page';
import { reviewRows } from './review';
import { storedRows } from './stored';
import { tableOf, type Row } from './table';
import { weightRows } from './weight';

const parts: Record<string, (options: { full: boolean }) => Row[] | Promise<Row[]>> = {
	decoder: decoderRows,
	handler: handlerRows,
	stored: storedRows,
	weight: weightRows,
	review: reviewRows,
	history: historyRows,
	beat: beatRows,
	bell: bellRows,
	memory: memoryRows,
	lighthouse: lighthouseRows
};

const { values } = parseArgs({
	options: { only: { type: 'string' }, full: { type: 'boolean', default: false } }
});
const names = values.only?.split(',') ?? Object.keys(parts);
const rows: Row[] = [];
/** Those that need no page. */
const inNode = ['decoder', 'handler', 'stored'];
const stop = names.every((name) => inNode.includes(name)) ? () => {} : await serve();
try {
	for (const name of names) {
		const part = parts[name];
		if (!part) throw new Error(`There is no "${name}"; --only takes ${Object.keys(parts).join(', ')}.`);
		const startMs = performance.now();
		try {
			rows.push(...(await part({ full: values.full })));
		} catch (problem) {
			// One that fails does not take the others' figures along.
			console.error(problem);
			rows.push({ row: name, measured: undefined, limit: 0, kind: 'most', unit: '', note: String(problem) });
		}
		console.error(`${name}: ${((performance.now() - startMs) / 1000).toFixed(0)} s`);
	}
} finally {
	stop();
}
console.log(tableOf(rows));
mkdirSync('test-results', { recursive: true });
writeFileSync('test-results/bench.json', JSON.stringify(rows, undefined, '\t'));
