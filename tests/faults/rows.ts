import { killAgainAndAgain, type KillFigures } from '../../e2e/kill-run';
import type { Deed } from '../../e2e/stored';
import type { RequestFigures } from './every-request';
import { dropAgainAndAgain, type DropFigures } from '../../e2e/pushed-drops';
import { loseTheStrap } from './disconnections';
import { playGyms } from './laptops/many-gyms';
import type { FileFigures } from './hostile-backups';
import { throwPackets } from './hostile-packets';
import { compareLiveAndKept } from './live-and-kept';
import { shareForReal } from './real-sharer/real-sharer';
import { readWorstFiles } from './worst-files';
import { count, none, percentile95, under, type Played } from './table';

// Side by side, because each waits most of its time for the moment of its kill or its loss.
const chains = 3;
const share = (all: number, chain: number) => Math.floor((all + chain) / chains);

/** SIGKILL at random moments of running sessions, and around the press that finishes one. */
export async function killed(
	address: string,
	kills: number,
	finishKills: number,
	seed: number
): Promise<Played> {
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
	const done = (deed: Deed) => sum(({ deeds }) => deeds[deed]);
	const runs =
		`${kills} kills in mid-session, ${count(sum((one) => one.packets))} packets, ${done('join')} boxers joined, ` +
		`${done('hand over')} straps handed over, ${done('add block')} blocks added`;
	const finishRuns = `${finishKills} kills at the finish: ${sum((one) => one.left.record)} left the record, ${sum((one) => one.left.journal)} the journal`;
	return {
		rows: [
			none(
				'Browser killed: packets and acts lost beyond the last second',
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
				'Strap lost: the same where the browser never answers a try (given up after 8 s)',
				`${returnsAfterDeadTryMs.length} returns`,
				percentile95(returnsAfterDeadTryMs),
				12_000
			)
		],
		faults: []
	};
}

/** The same in real browsers at the pace of life, whose packets are pushed. */
export async function dropped(address: string, drops: number, seed: number): Promise<Played> {
	const figures = await Promise.all(
		Array.from({ length: chains }, (_, chain) =>
			dropAgainAndAgain(address, share(drops, chain), seed + chain)
		)
	);
	const sum = (of: (figures: DropFigures) => number) => figures.reduce((total, one) => total + of(one), 0);
	const sent = sum((one) => one.sent);
	const heard = sent - sum((one) => one.notHandedOver);
	const runs = `${drops} disconnections in real browsers, ${count(heard)} of ${count(sent)} packets handed over`;
	return {
		rows: [
			none(
				'Strap lost in a real browser: packets handed to the page but not in the record',
				runs,
				sum((one) => one.missing)
			),
			under(
				'Strap lost in a real browser: from its return to the first beat shown, 95th percentile',
				runs,
				percentile95(figures.flatMap((one) => one.returnsMs)),
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

/** Requests of the store that failed, each in a run of its own. */
export function failed(what: string, { verbs, faults, failures }: RequestFigures): Played {
	return {
		rows: [
			none(
				`${what}: failures`,
				`${verbs > 1 ? `${verbs} verbs, ` : ''}${count(faults)} faults`,
				failures.length
			)
		],
		faults: failures
	};
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

/** Gyms of 3 to 12 laptops by chance, whose folders a careless copier keeps equal. */
export async function laptopsByTheDozen(gyms: number, seed: number): Promise<Played> {
	const { laptops, acts, having, faults } = await playGyms(gyms, seed);
	const runs = `${count(gyms)} gyms by chance, ${count(laptops)} laptops, ${count(acts)} acts`;
	return {
		rows: [
			none('Laptops: gyms where they differ in the end, or find no rest', runs, having.differ),
			none('Laptops: gyms where something entered is lost', runs, having.lost),
			none('Laptops: gyms where something deleted is back', runs, having.back),
			none('Laptops: gyms where something was written that nobody agreed to', runs, having.told)
		],
		faults
	};
}

/** Three laptops over a file sharer that is not ours, whose processes and pages are killed at random moments. */
export async function sharedForReal(program: string, acts: number, seed: number): Promise<Played> {
	const { kills, files, conflicts, temporary, ...figures } = await shareForReal(program, acts, seed);
	const runs = `3 laptops, ${figures.acts} acts, ${kills} kills, ${files} files, ${conflicts} put beside, ${temporary} halves seen`;
	return {
		rows: [
			none('Real file sharer: things that the laptops hold differently', runs, figures.different.length),
			none('Real file sharer: things entered and lost', runs, figures.lost.length),
			none('Real file sharer: things deleted and back', runs, figures.back.length)
		],
		faults: [...figures.different, ...figures.lost, ...figures.back]
	};
}

/** The most that a file of each kind can cost before it is read or refused. */
export async function worstFiles(): Promise<Played> {
	const costs = await readWorstFiles(1);
	return {
		rows: costs.map(({ kind, worst, shapes, cpuMs, limitMs, faults }) => {
			const row = under(
				`Worst ${kind} within the limits: seconds of a processor`,
				`${shapes} shapes of text, the worst ${worst}`,
				cpuMs,
				limitMs
			);
			return { ...row, met: row.met && faults.length === 0 };
		}),
		faults: costs.flatMap(({ faults }) => faults)
	};
}
