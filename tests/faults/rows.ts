import { dropAgainAndAgain } from '../../e2e/radio-drops';
import { killAgainAndAgain, type KillFigures } from '../../e2e/kill-run';
import { loseTheStrap } from './disconnections';
import type { FileFigures } from './hostile-backups';
import { throwPackets } from './hostile-packets';
import { compareLiveAndKept } from './live-and-kept';
import { count, none, percentile95, under, type Played } from './table';

// Side by side, because each waits most of its time for the moment of its kill.
const chains = 3;

/** SIGKILL at random moments of running sessions, and around the press that finishes one. */
export async function killed(
	address: string,
	kills: number,
	finishKills: number,
	seed: number
): Promise<Played> {
	const share = (all: number, chain: number) => Math.floor((all + chain) / chains);
	const figures = await Promise.all(
		Array.from({ length: chains }, (_, chain) =>
			killAgainAndAgain({
				address,
				kills: share(kills, chain),
				finishKills: share(finishKills, chain),
				livesS: [3, 20],
				seed: seed + chain
			})
		)
	);
	const sum = (of: (figures: KillFigures) => number) => figures.reduce((total, one) => total + of(one), 0);
	const runs = `${kills} kills in mid-session, ${count(sum((one) => one.packets))} packets`;
	const finishRuns = `${finishKills} kills at the finish: ${sum((one) => one.left.record)} left the record, ${sum((one) => one.left.journal)} the journal`;
	return {
		rows: [
			none(
				'Browser killed: packets lost beyond the last second',
				runs,
				sum((one) => one.lost)
			),
			under(
				'Browser killed: age of the oldest packet lost',
				runs,
				Math.max(...figures.map((one) => one.oldestLostMs)),
				1000
			),
			none(
				'Browser killed: packets doubled or invented',
				runs,
				sum((one) => one.doubled)
			),
			none(
				'Browser killed: sessions unreadable',
				runs,
				sum((one) => one.unreadable)
			),
			none(
				'Browser killed: sessions left half',
				finishRuns,
				sum((one) => one.left.half)
			)
		],
		faults: figures.flatMap((one) => one.faults)
	};
}

/** One session of hours in a moment, over a radio that a test holds in its hand. */
export async function disconnected(losses: number, seed: number): Promise<Played> {
	const { delivered, missing, clockErrorMs, oldBeats, returnsMs, returnsAfterDeadTryMs } = await loseTheStrap(
		losses,
		seed
	);
	const runs = `${losses} disconnections in one session, ${count(delivered)} packets`;
	return {
		rows: [
			none('Strap lost: packets delivered but not in the record', runs, missing),
			{
				...none('Strap lost: clock error', runs, clockErrorMs),
				measured: `${clockErrorMs} ms`,
				goal: '0 ms'
			},
			none('Strap lost: looks at an old beat shown as current', runs, oldBeats),
			under(
				'Strap lost: from its return to the first beat shown, 95th percentile',
				`${returnsMs.length} returns`,
				percentile95(returnsMs),
				3000
			),
			under(
				'The same where the browser never answers a try (given up after 8 s)',
				`${returnsAfterDeadTryMs.length} returns`,
				percentile95(returnsAfterDeadTryMs),
				12_000
			)
		],
		faults: []
	};
}

/** The same in a real browser at the pace of life, over its emulated radio. */
export async function dropped(address: string, drops: number, seed: number): Promise<Played> {
	const { delivered, missing, returnsMs } = await dropAgainAndAgain(address, drops, seed);
	const runs = `${drops} disconnections in a real browser, ${count(delivered)} packets`;
	return {
		rows: [
			none('Strap lost: packets delivered but not in the record', runs, missing),
			under(
				'Strap lost: from its return to the first beat shown, 95th percentile',
				runs,
				percentile95(returnsMs),
				3000
			)
		],
		faults: []
	};
}

/** Sessions by chance: what the screen showed, against what the record says. */
export async function liveAndKept(sessions: number, seed: number): Promise<Played> {
	const { compared, different, faults } = await compareLiveAndKept(sessions, seed);
	const runs = `${count(sessions)} sessions by chance, ${count(compared)} values`;
	return { rows: [none('Live values: sessions that differ from their record', runs, different)], faults };
}

export function hostilePackets(packets: number, seed: number): Played {
	const { uncaught, unclear, faults } = throwPackets(packets, seed);
	return {
		rows: [
			none('Hostile packets: uncaught errors', count(packets), uncaught),
			none('Hostile packets: refusals without a clear message', count(packets), unclear)
		],
		faults
	};
}

export function hostileFiles(what: string, figures: FileFigures): Played {
	const runs = `${count(figures.files)}, of which ${count(figures.refused)} refused`;
	return {
		rows: [
			none(`${what}: uncaught errors`, runs, figures.uncaught),
			none(`${what}: changed data`, runs, figures.changed),
			none(`${what}: refusals without a clear message`, runs, figures.unclear)
		],
		faults: figures.faults
	};
}
