import { mkdirSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { decoderRows } from './decoder';
import { handlerRows } from './handler';
import { historyRows } from './history';
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
	history: historyRows
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
		rows.push(...(await part({ full: values.full })));
		console.error(`${name}: ${((performance.now() - startMs) / 1000).toFixed(0)} s`);
	}
} finally {
	stop();
}
console.log(tableOf(rows));
mkdirSync('test-results', { recursive: true });
writeFileSync('test-results/bench.json', JSON.stringify(rows, undefined, '\t'));
