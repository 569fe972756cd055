import { readAgainOnNews, touches } from './kept-changes';
import { StoreError, type Unreadable, type UseStore } from './database';
import { readDays, saveDay, type DaysOfAthlete } from './days';
import { addEdit } from './edits';
import { checkTrainings, readTrainings } from './trainings';
import { dayOf } from '$lib/record/athlete-changes';
import type { TrainingDay } from '$lib/record/day';
import {
	emptyDayOf,
	owedEfforts,
	registerRows,
	rowsByDate,
	type OwedEffort,
	type RegisterChange,
	type RegisterRow
} from '$lib/review/register';
import type { KeptTraining } from '$lib/review/training';
import { daysAfter } from '$lib/review/weeks';

type Person = { id: string; name: string };

/** So far back an effort is asked for (own rule): who felt what is forgotten later. */
const owedDays = 28;

/** Midnight of a date (YYYY-MM-DD) here. */
const midnightOf = (date: string) => new Date(`${date}T00:00`);

const owedFrom = (today: string) => daysAfter(midnightOf(today), 1 - owedDays);

/**
 * The register of a day, for a squad or for one athlete. What somebody presses is shown at once and kept behind it, one press
 * after the other; what comes from another window or laptop is read anew.
 */
export class Register {
	#date = $state('');
	#people = $state.raw<readonly Person[]>([]);
	#days = $state.raw<ReadonlyMap<string, TrainingDay>>(new Map());
	#trainings = $state.raw<readonly KeptTraining[]>([]);
	#isRead = $state(false);
	#unreadable = $state.raw<readonly Unreadable[]>([]);
	#owed = $state.raw<readonly OwedEffort[]>([]);
	#problem = $state('');
	#turn = 0;
	#writing: Promise<void> = Promise.resolve();
	/** The day up to which efforts are asked for; empty before that was asked. */
	#owedUntil = '';
	/** What is known of those days, with what this window has entered since. */
	#recent = { days: new Map<string, DaysOfAthlete>(), trainings: [] as readonly KeptTraining[] };
	/** How often something was entered here: a reading that began before that is out of date. */
	#changes = 0;
	#isLeft = false;
	/** What this window is writing itself. */
	readonly #own = new Map<string, number>();
	readonly #rows = $derived(registerRows(this.#people, this.#days, this.#trainings));

	constructor(private readonly store: UseStore) {}

	get date(): string {
		return this.#date;
	}
	get rows(): readonly RegisterRow[] {
		return this.#rows;
	}
	/** The sessions with a strap of the day. */
	get trainings(): readonly KeptTraining[] {
		return this.#trainings;
	}
	get isRead(): boolean {
		return this.#isRead;
	}
	get unreadable(): readonly Unreadable[] {
		return this.#unreadable;
	}
	/** Who owes an effort of the last weeks, oldest first. */
	get owed(): readonly OwedEffort[] {
		return this.#owed;
	}
	/** Why the last press was not kept, or nothing could be read. */
	get problem(): string {
		return this.#problem;
	}

	/** Shows a day of these athletes. Never rejects: see `problem`. */
	async open(people: readonly Person[], date: string): Promise<void> {
		const turn = ++this.#turn;
		try {
			await this.#writing;
			const ids = people.map(({ id }) => id);
			const start = midnightOf(date);
			const [days, trainings] = await Promise.all([
				readDays(this.store, ids, date, date),
				readTrainings(this.store, start, daysAfter(start, 1))
			]);
			if (turn !== this.#turn) return;
			this.#date = date;
			this.#people = people;
			this.#days = new Map(
				[...days].flatMap(([id, of]) => {
					const day = of.days.get(date);
					return day ? [[id, day] as const] : [];
				})
			);
			this.#unreadable = [...days.values()].flatMap(({ unreadable }) => unreadable);
			this.#trainings = trainings;
			this.#isRead = true;
		} catch {
			this.#problem = 'This browser gives the page no storage, so the register cannot be read.';
		}
	}

	/** Looks up who owes an effort. Never rejects. */
	async lookForOwed(today: string): Promise<void> {
		// It is asked for once the page is idle, which may be on another screen.
		if (this.#isLeft) return;
		this.#owedUntil = today;
		try {
			const first = owedFrom(today);
			const people = this.#people;
			const ids = people.map(({ id }) => id);
			let changes: number;
			do {
				changes = this.#changes;
				await this.#writing;
				const [days, trainings] = await Promise.all([
					readDays(this.store, ids, dayOf(first), today),
					readTrainings(this.store, first, daysAfter(midnightOf(today), 1))
				]);
				this.#recent = { days, trainings };
			} while (changes !== this.#changes);
			this.#sayOwed();
			if (await checkTrainings(this.store)) await this.open(people, this.#date);
		} catch {
			// The day itself says what is wrong with the store.
		}
	}

	#sayOwed(): void {
		const { days, trainings } = this.#recent;
		this.#owed = owedEfforts(rowsByDate(this.#people, days, trainings));
	}

	/** What this window has kept of a day is known without a look at all the others. */
	#noteDay(athleteId: string, date: string, kept: TrainingDay): void {
		const known = this.#recent.days.get(athleteId)?.days;
		if (known && date >= dayOf(owedFrom(this.#owedUntil))) known.set(date, kept);
	}

	/** Reads anew what is written elsewhere. Answers what ends that. */
	follow(today: string): () => void {
		const isNews = (keys: ReadonlySet<string>) =>
			this.#isRead &&
			touches(new Set([...keys].filter((key) => !this.#own.has(key))), 'day', 'edit', 'head', 'tombstone');
		const stop = readAgainOnNews(this.store, isNews, async () => {
			await this.open(this.#people, this.#date);
			await this.lookForOwed(today);
		});
		return () => {
			this.#isLeft = true;
			stop();
		};
	}

	/** Shows a change at once and keeps it. Where that fails, what was there stands again and `problem` says why. */
	async change(athleteId: string, change: RegisterChange): Promise<void> {
		this.#problem = '';
		const [date, key] =
			change.kind === 'day' ? [this.#date, `day/${athleteId}`] : [this.#date, `edit/${change.sessionId}`];
		const before = this.#days.get(athleteId) ?? emptyDayOf();
		const shown = this.#trainings;
		this.#show(athleteId, change);
		this.#own.set(key, (this.#own.get(key) ?? 0) + 1);
		this.#changes++;
		this.#writing = this.#writing.then(async () => {
			try {
				if (change.kind === 'session') {
					const { sessionId, effort } = change;
					await addEdit(this.store, sessionId, { at: new Date().toISOString(), effort });
					this.#recent.trainings = rated(this.#recent.trainings, change);
				} else {
					const kept = await saveDay(this.store, athleteId, date, { before, changed: change.changed });
					this.#noteDay(athleteId, date, kept);
					const isLatest = date === this.#date && this.#days.get(athleteId) === change.changed;
					if (isLatest) this.#days = new Map([...this.#days, [athleteId, kept]]);
				}
			} catch (error) {
				if (date === this.#date) {
					this.#days = new Map([...this.#days, [athleteId, before]]);
					this.#trainings = shown;
				}
				this.#problem = wordsFor(error);
			}
			const left = (this.#own.get(key) ?? 1) - 1;
			if (left === 0) this.#own.delete(key);
			else this.#own.set(key, left);
		});
		await this.#writing;
		if (this.#own.size === 0 && this.#owedUntil) this.#sayOwed();
	}

	#show(athleteId: string, change: RegisterChange): void {
		if (change.kind === 'day') this.#days = new Map([...this.#days, [athleteId, change.changed]]);
		else {
			this.#trainings = rated(this.#trainings, change);
		}
	}
}

const rated = (
	trainings: readonly KeptTraining[],
	{ sessionId, effort }: { sessionId: string; effort: number }
) => trainings.map((one) => (one.id === sessionId ? { ...one, effort } : one));

function wordsFor(error: unknown): string {
	if (error instanceof StoreError && error.code === 'full')
		return 'The disk is full: the last press was not kept. Make room, and press again.';
	return 'This browser refuses to write: the last press was not kept.';
}
