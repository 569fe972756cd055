import { spawn } from 'node:child_process';
import { killAgainAndAgain, type KillFigures } from '../../e2e/kill-run';
import { none, type Row } from './table';

const port = Number(process.env.E2E_PORT ?? 4362);

/** Builds the page and serves it until `use` is done. */
export async function withServer<T>(use: (address: string) => Promise<T>): Promise<T> {
	const server = spawn(process.execPath, ['src/start.js', '--port', String(port)], {
		stdio: ['ignore', 'pipe', 'inherit']
	});
	try {
		await new Promise((resolve, reject) => {
			server.stdout.on('data', (text) => String(text).includes('ready') && resolve(undefined));
			server.once('exit', () => reject(new Error(`The page could not be served on port ${port}.`)));
		});
		return await use(`http://localhost:${port}/`);
	} finally {
		server.kill();
	}
}

// Side by side, because each waits most of its time for the moment of its kill.
const chains = 4;

export async function browserRows(seed: number): Promise<{ kills: Row[]; faults: string[] }> {
	const figures = await withServer((address) =>
		Promise.all(
			Array.from({ length: chains }, (_, i) =>
				killAgainAndAgain({
					address,
					kills: 100 / chains,
					finishKills: 24 / chains,
					livesS: [3, 20],
					seed: seed + i
				})
			)
		)
	);
	const sum = (of: (figures: KillFigures) => number) => figures.reduce((total, one) => total + of(one), 0);
	const packets = sum((one) => one.packets).toLocaleString('en');
	const runs = `100 kills, ${packets} packets`;
	const left = { journal: sum((one) => one.left.journal), record: sum((one) => one.left.record) };
	return {
		kills: [
			none(
				'packets lost beyond the last second',
				runs,
				sum((one) => one.lost)
			),
			none(
				'packets doubled or invented',
				runs,
				sum((one) => one.doubled)
			),
			none(
				'sessions unreadable',
				runs,
				sum((one) => one.unreadable)
			),
			{
				what: 'age of the oldest packet lost',
				runs,
				measured: `${Math.max(...figures.map((one) => one.oldestLostMs))} ms`,
				goal: '1,000 ms',
				met: sum((one) => one.lost) === 0
			},
			none(
				`kills around the finish that left half (${left.journal} left the journal, ${left.record} the record)`,
				`${left.journal + left.record}`,
				sum((one) => one.left.half)
			)
		],
		faults: figures.flatMap((one) => one.faults)
	};
}
