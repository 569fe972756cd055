import type { Athlete } from '$lib/record/athlete';
import { listAthletes } from './athlete-list';
import type { UseStore } from './database';

/** What changes a card, for the moment in which one is changed. */
const writer = () => import('./athletes');

const mostShown = 500;

/**
 * The cards as this window shows them, and whose is chosen. A change is shown at once and kept after those before it;
 * where the store refuses it, it lasts as long as the page.
 */
export class ShownCards {
	#athlete = $state.raw<Athlete>({ id: crypto.randomUUID(), name: 'Me' });
	#athletes = $state.raw<readonly Athlete[]>([]);
	/** Each card as it was when screen and store last agreed; what was not kept since differs from it. */
	readonly #agreed = new Map<string, Athlete>();
	/** Each card as it was changed here last. */
	readonly #latest = new Map<string, Athlete>();
	/** Cards are written one after the other, in the order in which they were changed; what was written is read behind them. */
	protected turn: Promise<void> = Promise.resolve();
	#refusal = $state('');
	/** So many changes to cards are on their way to the store: the screen is ahead of it. */
	#keeping = $state(0);
	/** So many were made here. */
	#changes = 0;
	/** The cards that this window has shown, by the moment of their last change: what a change was made to. */
	readonly #shown = new Map<string, Athlete>();
	#problem = $state.raw<unknown>();

	constructor(protected readonly store: UseStore) {}

	get athlete(): Athlete {
		return this.#athlete;
	}
	/** Everybody who boxes here; one, until a second is added. */
	get athletes(): readonly Athlete[] {
		return this.#athletes;
	}
	/** Why something could not be read or kept, the latest of them. */
	get problem(): unknown {
		return this.#problem;
	}
	/** Why the last change to a card was not kept; empty where it was. */
	get refusal(): string {
		return this.#refusal;
	}

	/** A card that is shown is not kept yet. */
	get isAhead(): boolean {
		return this.#keeping > 0;
	}

	/** Shows the cards that are kept, unless one is changed meanwhile: keeping that leads here again. */
	protected async readCards(chosenId: string): Promise<void> {
		const before = this.#changes;
		const { athletes } = await listAthletes(this.store);
		if (this.#changes !== before) return;
		this.#athletes = athletes;
		// One that is gone stays noted: it must not be taken for a new one.
		for (const card of athletes) this.#agree(card);
		this.#athlete = athletes.find(({ id }) => id === chosenId) ?? athletes[0] ?? this.#athlete;
	}

	/** Answers whether there is such a card. */
	protected showChosen(id: string): boolean {
		const athlete = this.#athletes.find((one) => one.id === id);
		if (athlete) this.#athlete = athlete;
		return athlete !== undefined;
	}

	/** Shows a changed or a new card at once and keeps it. One that was deleted or merged elsewhere stays gone. */
	async setAthlete(changed: Athlete): Promise<void> {
		// A screen may have been at it since before somebody else's change came in.
		const before = this.#shown.get(`${changed.id} ${changed.changedAt}`);
		await this.#set({ ...changed, changedAt: new Date().toISOString() }, before);
	}

	/** Notes by itself which strap somebody wears: nothing that was entered by hand becomes newer by that. */
	async noteStrap(athlete: Athlete): Promise<void> {
		await this.#set(athlete);
	}

	async #set(athlete: Athlete, before?: Athlete): Promise<void> {
		this.#latest.set(athlete.id, athlete);
		this.#show(athlete);
		this.#keeping++;
		this.#changes++;
		this.turn = this.turn.then(async () => {
			await this.try(() => this.#keep(athlete, before));
			this.#keeping--;
		});
		await this.turn;
	}

	async #keep(athlete: Athlete, before: Athlete | undefined): Promise<void> {
		const { id, name } = athlete;
		const save = async () =>
			(await writer()).saveAthlete(this.store, athlete, before ?? this.#agreed.get(id));
		const kept = await save().catch((problem: unknown) => {
			this.#refusal = `This browser refuses to write: what was changed of ${name} lasts as long as the page.`;
			throw problem;
		});
		this.#refusal = kept
			? ''
			: `${name} was deleted or merged elsewhere, so what was changed here was not kept.`;
		if (!kept) return this.readCards(this.#athlete.id);
		// Changed again meanwhile: the screen takes over what came from elsewhere once that is kept.
		const isLatest = this.#latest.get(id) === athlete;
		this.#agree(isLatest ? kept : athlete);
		if (isLatest) this.#show(kept);
	}

	#agree(card: Athlete): void {
		this.#agreed.set(card.id, card);
		this.#shown.set(`${card.id} ${card.changedAt}`, card);
		// A screen is not at a card for longer than some changes.
		if (this.#shown.size > mostShown) this.#shown.delete(this.#shown.keys().next().value!);
	}

	#show(athlete: Athlete): void {
		if (athlete.id === this.#athlete.id) this.#athlete = athlete;
		const others = this.#athletes.filter(({ id }) => id !== athlete.id);
		this.#athletes = [...others, athlete].sort((a, b) => a.name.localeCompare(b.name));
	}

	/** Makes a card for somebody new, who is not chosen by that; answers its id, under which it is here at once. */
	addAthlete(name: string): string {
		const id = crypto.randomUUID();
		void this.setAthlete({ id, name });
		return id;
	}

	protected async try(work: () => Promise<void>): Promise<void> {
		try {
			await work();
			this.#problem = undefined;
		} catch (problem) {
			this.#problem = problem;
		}
	}
}
