import { afterAll, describe, expect, it } from 'vitest';
import { failEveryFileCall } from './every-file-call';
import { failEveryRequest } from './every-request';
import { readHostileSessions, restoreHostile } from './hostile-backups';
import { bringInHostile } from './hostile-recordings';
import {
	disconnected,
	dropped,
	failed,
	hostileFiles,
	hostilePackets,
	killed,
	laptopsByTheDozen,
	liveAndKept,
	sharedForReal,
	worstFiles
} from './rows';
import { sharerPath } from './real-sharer/sharer-process';
import { withPage } from './served-page';
import { sharedWorld } from './worlds';
import { storeVerbs } from './store-verbs';
import { renewGuide, tableOf, writeRows, type Played, type Row } from './table';

const seed = Number(process.env.FAULTS_SEED ?? 2026);
/** Plays the gym of one seed alone, and tells all that was done there. */
const gymSeed = Number(process.env.LAPTOPS_SEED) || undefined;
const all: Row[] = [];

function note({ rows, faults }: Played): void {
	all.push(...rows);
	console.log(`\n${tableOf(rows)}`);
	for (const fault of gymSeed ? faults : faults.slice(0, 20)) console.log(`  ${fault}`);
	expect(rows.filter(({ met }) => !met)).toEqual([]);
}

afterAll(() => {
	console.log(`\nSeed ${seed}; FAULTS_SEED sets another.\n\n${tableOf(all)}\n`);
	writeRows(all, seed);
	if (!gymSeed) renewGuide(all);
});

describe('what breaks, and what does not', () => {
	it('hostile packets', () => note(hostilePackets(1_000_000, seed)));

	it('hostile recordings', async () =>
		note(hostileFiles('Mutated CSV files', await bringInHostile(1000, seed))));

	it('hostile files of one session', () =>
		note(hostileFiles('Mutated session files', readHostileSessions(1000, seed))));

	it('hostile backups', async () =>
		note(hostileFiles('Mutated backups', await restoreHostile(10_000, seed))));

	it('the worst files that the limits let in', async () => note(await worstFiles()));

	it('live values and kept ones', async () => note(await liveAndKept(5000, seed)));

	it('a request of the store that fails', async () =>
		note(failed('Every request of the store fails once', await failEveryRequest(storeVerbs))));

	it('a call to the shared folder that fails', async () =>
		note(
			failed(
				'Every file call of a visit to the shared folder fails once',
				await failEveryFileCall(await sharedWorld())
			)
		));

	it('laptops by the dozen', async () => note(await laptopsByTheDozen(gymSeed ? 1 : 2000, gymSeed ?? seed)));

	it('a real file sharer', async () => {
		const program = sharerPath();
		if (!program)
			console.log(
				'\nLeft out: the laptops over a real file sharer, since Debian’s package syncthing is not here.'
			);
		note(program ? await sharedForReal(program, 300, seed) : { rows: [], faults: [] });
	});

	it('a strap that is lost', async () => note(await disconnected(200, seed)));

	it('a strap that is lost in a real browser', () =>
		withPage(async (address) => note(await dropped(address, 200, seed))));

	it('a browser that is killed', () =>
		withPage(async (address) => note(await killed(address, 100, 24, seed))));
});
