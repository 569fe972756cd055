import { afterAll, describe, expect, it } from 'vitest';
import { readHostileSessions, restoreHostile } from './hostile-backups';
import { bringInHostile } from './hostile-recordings';
import { disconnected, dropped, hostileFiles, hostilePackets, killed, liveAndKept } from './rows';
import { withPage } from './served-page';
import { tableOf, writeRows, type Played, type Row } from './table';

const seed = Number(process.env.FAULTS_SEED ?? 2026);
const all: Row[] = [];

function note({ rows, faults }: Played): void {
	all.push(...rows);
	console.log(`\n${tableOf(rows)}`);
	for (const fault of faults.slice(0, 20)) console.log(`  ${fault}`);
	expect(rows.filter(({ met }) => !met)).toEqual([]);
}

afterAll(() => {
	console.log(`\nSeed ${seed}; FAULTS_SEED sets another.\n\n${tableOf(all)}\n`);
	writeRows(all, seed);
});

describe('what breaks, and what does not', () => {
	it('hostile packets', () => note(hostilePackets(1_000_000, seed)));

	it('hostile recordings', async () =>
		note(hostileFiles('Mutated CSV files', await bringInHostile(1000, seed))));

	it('hostile files of one session', () =>
		note(hostileFiles('Mutated session files', readHostileSessions(1000, seed))));

	it('hostile backups', async () =>
		note(hostileFiles('Mutated backups', await restoreHostile(10_000, seed))));

	it('live values and kept ones', async () => note(await liveAndKept(5000, seed)));

	it('a strap that is lost', async () => note(await disconnected(200, seed)));

	it('a strap that is lost in a real browser', () =>
		withPage(async (address) => note(await dropped(address, 30, seed))));

	it('a browser that is killed', () =>
		withPage(async (address) => note(await killed(address, 100, 24, seed))));
});
