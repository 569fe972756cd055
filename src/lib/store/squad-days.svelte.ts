import type { UseStore } from './database';
import { readDays, type DaysOfAthlete } from './days';
import { readGoalDates } from './fuel';
import { readAgainOnNews, touches } from './kept-changes';
import { readTrainings } from './trainings';
import { dayOf } from '$lib/record/athlete-changes';
import type { KeptTraining } from '$lib/review/training';
import { daysAfter } from '$lib/review/weeks';

interface Read {
	days: ReadonlyMap<string, DaysOfAthlete>;
	trainings: readonly KeptTraining[];
	goals: ReadonlyMap<string, string>;
}

/** What a squad trained over some weeks, read anew when something of it is written. */
export class SquadDays {
	#read = $state.raw<Read>();
	#problem = $state('');
	#asked: [ids: readonly string[], from: Date, until: Date, trainingsFrom: Date] | undefined;
	#turn = 0;

	constructor(private readonly store: UseStore) {}

	/** Absent until it is read. */
	get found(): Read | undefined {
		return this.#read;
	}
	get problem(): string {
		return this.#problem;
	}

	/**
	 * From one day to another, the second excluded. Never rejects: see `problem`.
	 *
	 * @param trainingsFrom where those with a strap are wanted from an earlier day on
	 */
	async open(ids: readonly string[], from: Date, until: Date, trainingsFrom = from): Promise<void> {
		this.#asked = [ids, from, until, trainingsFrom];
		const turn = ++this.#turn;
		try {
			const [days, trainings, goals] = await Promise.all([
				readDays(this.store, ids, dayOf(from), dayOf(daysAfter(until, -1))),
				readTrainings(this.store, trainingsFrom, until),
				readGoalDates(this.store, ids)
			]);
			if (turn === this.#turn) this.#read = { days, trainings, goals };
		} catch {
			this.#problem = 'This browser gives the page no storage, so nothing of the squad can be read.';
		}
	}

	/** Answers what ends it. */
	follow(): () => void {
		return readAgainOnNews(
			this.store,
			(keys) => touches(keys, 'day', 'edit', 'head', 'tombstone', 'goal'),
			async () => this.#asked && this.open(...this.#asked)
		);
	}
}
