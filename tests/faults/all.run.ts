import { afterAll, describe, expect, it } from 'vitest';
import { throwPackets } from './hostile-packets';
import { browserRows } from './browser-rows';
import { none, tableOf, writeRows, type Row } from './table';

const seed = Number(process.env.FAULTS_SEED ?? 2026);
const rows: Row[] = [];

function note(faults: readonly string[], ...made: Row[]): void {
	rows.push(...made);
	console.log(`\n${tableOf(made)}`);
	for (const fault of faults.slice(0, 20)) console.log(`  ${fault}`);
	expect(made.filter(({ met }) => !met)).toEqual([]);
}

afterAll(() => {
	console.log(`\nSeed ${seed} (FAULTS_SEED sets another)\n\n${tableOf(rows)}\n`);
	writeRows(rows, seed);
});

describe('what breaks', () => {
	it('packets', () => {
		const { packets, uncaught, unclear, faults } = throwPackets(1_000_000, seed);
		const runs = packets.toLocaleString('en');
		note(
			faults,
			none('hostile packets through the decoder: uncaught errors', runs, uncaught),
			none('refusals among them without a clear message', runs, unclear)
		);
	});

	it('the browser killed', async () => {
		const { kills, faults } = await browserRows(seed);
		note(faults, ...kills);
	});
});
