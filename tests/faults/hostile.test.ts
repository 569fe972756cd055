import { describe, expect, it } from 'vitest';
import { readHostileSessions, restoreHostile, type FileFigures } from './hostile-backups';
import { throwPackets } from './hostile-packets';
import { bringInHostile } from './hostile-recordings';
import { readWorstFiles } from './worst-files';

// The long runs are in `npm run faults`.
const seed = 7;

function expectUnharmed(figures: FileFigures): void {
	expect(figures).toMatchObject({ faults: [], uncaught: 0, changed: 0, unclear: 0 });
	expect(figures.refused).toBeGreaterThan(figures.files / 10);
	expect(figures.accepted).toBeGreaterThan(figures.files / 100);
}

describe('hostile input', () => {
	it('goes through the decoder as packets: read or refused in words', () => {
		const { decoded, refused, ...rest } = throwPackets(20_000, seed);
		expect(rest).toMatchObject({ uncaught: 0, unclear: 0, faults: [] });
		expect(Math.min(decoded, refused)).toBeGreaterThan(2000);
	});

	it('comes as backups: the store stays as it was until a sound one is restored', async () => {
		expectUnharmed(await restoreHostile(200, seed));
	});

	it('comes as files of one session', () => {
		expectUnharmed(readHostileSessions(200, seed));
	});

	it('comes as the worst of each kind of file, here a hundredth of it: read or refused, and never more than that', async () => {
		const costs = await readWorstFiles(0.01);
		expect(costs.flatMap(({ faults }) => faults)).toEqual([]);
		expect(costs.map(({ kind }) => kind)).toEqual([
			'backup',
			'session',
			'plan',
			'plan (link)',
			"session's file in the shared folder",
			'other file in the shared folder',
			'recording',
			'register'
		]);
	});

	it('comes as recordings: refused, or a record that can be measured, kept and read', async () => {
		expectUnharmed(await bringInHostile(100, seed));
	});
});
