import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { parkMiller } from './park-miller';
import { expect } from './patience';
import { deeds, storedIn, type Deed, type Stored } from './stored';
import { Visit, type Truth } from './visit';

export interface KillRun {
	/** Where the built page is served. */
	address: string;
	/** Kills in mid-session, then kills around the press that finishes one. */
	kills: number;
	finishKills: number;
	/** The shortest and the longest life of a browser between two kills in mid-session, seconds. */
	livesS: [number, number];
	seed: number;
}

export interface KillFigures {
	kills: number;
	/** Packets that the page received in all. */
	packets: number;
	/** Packets that had arrived more than a second before a kill and were not there afterwards. */
	lost: number;
	/** Age at the kill of the oldest packet that was not there afterwards. */
	oldestLostMs: number;
	/** Packets that are there twice, or were never sent. */
	doubled: number;
	/** Sessions that the next visit could neither go on with nor keep, or whose review did not open. */
	unreadable: number;
	/** What the kills around the finish left. */
	left: { journal: number; record: number; half: number };
	/** Boxers who joined, straps that changed hands and blocks that were added, as far as the page had shown it. */
	deeds: Record<Deed, number>;
	/** Each fault in words. */
	faults: string[];
}

/**
 * Kills one browser after the other, all on the same profile, and looks on each next visit at what the disk
 * holds. About every other session found again is gone on with, and killed again; the rest is kept and opened in
 * the review.
 */
export async function killAgainAndAgain(run: KillRun): Promise<KillFigures> {
	const profile = mkdtempSync(join(tmpdir(), 'corner-minute-'));
	try {
		return await new Chain(run, profile).play();
	} finally {
		rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
	}
}

/** What the disk holds of the session that was killed last: a record for each who wore the strap. */
interface Found {
	journal?: Stored['journals'][number];
	records: Stored['records'];
}

class Chain {
	readonly #figures: KillFigures = {
		kills: 0,
		packets: 0,
		lost: 0,
		oldestLostMs: 0,
		doubled: 0,
		unreadable: 0,
		left: { journal: 0, record: 0, half: 0 },
		deeds: { join: 0, 'hand over': 0, 'add block': 0 },
		faults: []
	};
	readonly #random: () => number;
	/** Sessions that were looked at for the last time. */
	readonly #closed = new Set<string>();

	constructor(
		private readonly run: KillRun,
		private readonly profile: string
	) {
		this.#random = parkMiller(run.seed);
	}

	async play(): Promise<KillFigures> {
		const { kills, finishKills, address } = this.run;
		const last = kills + finishKills;
		let truth: Truth | undefined;
		for (let turn = 0; turn <= last; turn++) {
			const visit = await Visit.begin(this.profile, address);
			if (turn === 0) await visit.corner.answer('skip');
			if (truth) truth = await this.#lookAt(visit, truth, turn);
			if (turn < last) {
				truth ??= await visit.startSession();
				await this.#kill(visit, truth, turn >= kills);
			} else await visit.kill();
		}
		return this.#figures;
	}

	async #kill(visit: Visit, truth: Truth, isFinishing: boolean): Promise<void> {
		const [shortestS, longestS] = isFinishing ? [1.5, 3.5] : this.run.livesS;
		// Every other life at the pace of most straps, one packet a second, the rest as irregular as they come.
		const steady = this.#random() < 0.5;
		visit.stream(truth, () => (steady ? 1000 : 200 + 900 * this.#random()));
		const life = wait(1000 * (shortestS + (longestS - shortestS) * this.#random()));
		// Cut off by the kill as whatever else is under way.
		if (!isFinishing) visit.act(truth, this.#deedIn(truth)).catch(() => undefined);
		await life;
		if (isFinishing) {
			await visit.toClosingMinute();
			const press = visit.corner.holdFinish();
			press.catch(() => undefined);
			await wait(300 * this.#random());
		}
		const received = truth.arrivedMs.size;
		truth.killed = { atMs: await visit.kill(), isFinishing };
		this.#figures.kills++;
		this.#figures.packets += received - truth.seenBefore;
	}

	#deedIn({ boxers }: Truth): Deed {
		const possible = deeds.filter((deed) => deed !== 'hand over' || boxers.length > 1);
		return possible[Math.floor(possible.length * this.#random())]!;
	}

	/** Compares the disk with the truth and takes the session up; answers it where it goes on. */
	async #lookAt(visit: Visit, truth: Truth, turn: number): Promise<Truth | undefined> {
		const found = this.#found(await storedIn(visit.page));
		this.#compare(truth, found, turn);
		const isKept = truth.killed!.isFinishing || turn >= this.run.kills || this.#random() < 0.5;
		try {
			if (found.records[0]) await visit.openReview(found.records[0].id);
			else if (isKept) await this.#keep(visit, found);
			else {
				await visit.goOn();
				truth.seenBefore = truth.arrivedMs.size;
				return truth;
			}
		} catch (error) {
			this.#figures.unreadable++;
			this.#fault(turn, `could not be taken up: ${String(error)}`);
		}
		for (const id of [found.journal?.sessionId, found.records[0]?.groupId]) if (id) this.#closed.add(id);
		return undefined;
	}

	async #keep(visit: Visit, { journal }: Found): Promise<void> {
		await visit.keep();
		const { records } = this.#found(await storedIn(visit.page));
		const inOrder = (numbers: readonly number[] = []) => [...numbers].sort((a, b) => a - b);
		expect(inOrder(numbersOf(records)), 'the packets of the kept records').toEqual(inOrder(journal?.numbers));
		for (const { groupId } of records) this.#closed.add(groupId);
	}

	#found({ journals, records }: Stored): Found {
		return {
			journal: journals.find(({ sessionId }) => !this.#closed.has(sessionId)),
			records: records.filter(({ groupId }) => !this.#closed.has(groupId))
		};
	}

	#compare(truth: Truth, { journal, records }: Found, turn: number): void {
		const figures = this.#figures;
		const { atMs, isFinishing } = truth.killed!;
		const isRecord =
			records.length > 0 && records.every(({ hasHead, hasBody }) => hasHead && hasBody) && !journal;
		const isJournal = journal !== undefined && journal.hasStart && records.length === 0;
		if (isFinishing) figures.left[isRecord ? 'record' : isJournal ? 'journal' : 'half']++;
		else if (!isJournal) figures.unreadable++;
		if (!isJournal && !isRecord) this.#fault(turn, 'neither a whole journal nor a whole record is there');

		const there = journal?.numbers ?? numbersOf(records);
		const numbers = new Set(there);
		for (const [number, arrivedMs] of truth.arrivedMs) {
			if (numbers.has(number)) continue;
			const ageMs = atMs - arrivedMs;
			figures.oldestLostMs = Math.max(figures.oldestLostMs, ageMs);
			if (ageMs > 1000) {
				figures.lost++;
				this.#fault(turn, `packet ${number} is lost, which had arrived ${ageMs} ms before`);
			}
			// Judged once: a session that goes on will lack it at its next kill too.
			truth.arrivedMs.delete(number);
		}
		const strangers = there.length - numbers.size + there.filter((number) => !truth.sent.has(number)).length;
		figures.doubled += strangers;
		if (strangers > 0) this.#fault(turn, `${strangers} packets are there twice or were never sent`);
		if (journal) this.#compareDeeds(truth, journal, turn);
	}

	#compareDeeds(truth: Truth, journal: Stored['journals'][number], turn: number): void {
		const { deeds: done, killed } = truth;
		const figures = this.#figures;
		for (const deed of deeds) {
			const begun = done.filter((one) => one.deed === deed);
			const shown = begun.filter(({ shownMs = Infinity }) => shownMs < killed!.atMs - 1000).length;
			const found = journal.deeds.filter((one) => one === deed).length;
			figures.deeds[deed] += begun.filter(({ shownMs = 0 }) => shownMs > 0).length;
			if (found >= shown && found <= begun.length) continue;
			figures.lost++;
			this.#fault(turn, `of "${deed}", shown done ${shown} of ${begun.length} times, ${found} are there`);
		}
		// Judged once. What was cut off may be there or not: a session that goes on goes on from what the disk says.
		truth.deeds = journal.deeds.map((deed) => ({ deed, shownMs: 0 }));
		truth.boxers = journal.boxers;
	}

	#fault(turn: number, what: string): void {
		this.#figures.faults.push(`Kill ${turn} of seed ${this.run.seed}: ${what}.`);
	}
}

const numbersOf = (records: Stored['records']) => records.flatMap(({ numbers }) => numbers);
