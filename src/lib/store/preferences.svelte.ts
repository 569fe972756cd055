import { check, planSchema, type Athlete } from '$lib/record/record-schema';
import { changedMembers, listAthletes, saveAthlete } from './athletes';
import type { UseStore } from './database';
import {
	deletePlan,
	getSetting,
	listPlans,
	savePlan,
	setSetting,
	type OwnPlan,
	type Settings
} from './settings';

type Plan = Settings['lastPlan'];
type BellSettings = Settings['bell'];

/** What takes athletes out and brings them back, for the rare day on which that is done. */
const goneAthletes = () => import('./gone-athletes');

/** What holds before anything was ever chosen. */
export interface Defaults {
	plan: Plan;
	bell: BellSettings;
}

/**
 * What the athlete chose last, read once and kept with every change. Where the store gives nothing, the
 * defaults hold and changes last as long as the page: `problem` says so.
 */
export class Preferences {
	#isLoaded = $state(false);
	#athlete = $state.raw<Athlete>({ id: crypto.randomUUID(), name: 'Me' });
	#athletes = $state.raw<readonly Athlete[]>([]);
	/** Each card as it was when screen and store last agreed; what was not kept since differs from it. */
	readonly #agreed = new Map<string, Athlete>();
	/** Each card as it was changed here last. */
	readonly #latest = new Map<string, Athlete>();
	/** Cards are written one after the other, in the order in which they were changed. */
	#turn: Promise<void> = Promise.resolve();
	#refusal = $state('');
	/** Made because the last athlete was deleted: goes again, untouched, when that one is brought back. */
	#standIn: string | undefined;
	#units = $state<Settings['units']>('metric');
	#theme = $state<Settings['theme']>('dark');
	#hasKeys = $state(true);
	#plan = $state.raw<Plan>()!;
	#bell = $state.raw<BellSettings>()!;
	#ownPlans = $state.raw<readonly OwnPlan[]>([]);
	#isAsked = $state(false);
	#isSpoken = $state(true);
	#corners: readonly string[] = [];
	#problem = $state.raw<unknown>();

	constructor(
		private readonly store: UseStore,
		defaults: Defaults
	) {
		this.#plan = defaults.plan;
		this.#bell = defaults.bell;
	}

	get isLoaded(): boolean {
		return this.#isLoaded;
	}
	get athlete(): Athlete {
		return this.#athlete;
	}
	/** Everybody who boxes here; one, until a second is added. */
	get athletes(): readonly Athlete[] {
		return this.#athletes;
	}
	get units(): Settings['units'] {
		return this.#units;
	}
	get theme(): Settings['theme'] {
		return this.#theme;
	}
	/** Single keys act on the first and on the live screen. */
	get hasKeys(): boolean {
		return this.#hasKeys;
	}
	get plan(): Plan {
		return this.#plan;
	}
	get bell(): BellSettings {
		return this.#bell;
	}
	get ownPlans(): readonly OwnPlan[] {
		return this.#ownPlans;
	}
	/** Ids of those who stood in the corners last, in order: two or more, or none. */
	get corners(): readonly string[] {
		return this.#corners;
	}
	/** The one question of the first visit was answered or skipped. */
	get isAsked(): boolean {
		return this.#isAsked;
	}
	/** Calls for more pace are spoken as well, where this machine has a voice. */
	get isSpoken(): boolean {
		return this.#isSpoken;
	}
	/** Why something could not be read or kept, the latest of them. */
	get problem(): unknown {
		return this.#problem;
	}

	/** Why the last change to a card was not kept; empty where it was. */
	get refusal(): string {
		return this.#refusal;
	}

	async load(): Promise<void> {
		await this.#turn;
		await this.#try(() => this.#read());
		this.#isLoaded = true;
	}

	async #read(): Promise<void> {
		const [athletes, plan, bell, asked, own, chosen, corners, units, spoken, theme, hasKeys] =
			await Promise.all([
				listAthletes(this.store),
				getSetting(this.store, 'lastPlan', this.#plan),
				getSetting(this.store, 'bell', this.#bell),
				getSetting(this.store, 'firstQuestionsAsked', false),
				listPlans(this.store),
				getSetting(this.store, 'athlete', ''),
				getSetting(this.store, 'corners', []),
				getSetting(this.store, 'units', 'metric' as const),
				getSetting(this.store, 'spokenPrompts', true),
				getSetting(this.store, 'theme', 'dark' as const),
				getSetting(this.store, 'hasKeys', true)
			]);
		this.#athletes = athletes.athletes;
		// One that is gone stays noted: it must not be taken for a new one.
		for (const card of athletes.athletes) this.#agreed.set(card.id, card);
		this.#athlete =
			athletes.athletes.find(({ id }) => id === chosen.value) ?? athletes.athletes[0] ?? this.#athlete;
		const here = corners.value.filter((one) => athletes.athletes.some(({ id }) => id === one));
		this.#corners = here.length > 1 ? here : [];
		this.#units = units.value;
		this.#theme = theme.value;
		this.#hasKeys = hasKeys.value;
		this.#plan = plan.value;
		this.#bell = bell.value;
		this.#isAsked = asked.value;
		this.#isSpoken = spoken.value;
		this.#ownPlans = own.plans;
	}

	/** Shows a changed or a new card at once and keeps it. One that was deleted or merged elsewhere stays gone. */
	async setAthlete(changed: Athlete): Promise<void> {
		// Of two laptops that share a folder, the later change to a card holds.
		const athlete = { ...changed, changedAt: new Date().toISOString() };
		this.#latest.set(athlete.id, athlete);
		this.#show(athlete);
		this.#turn = this.#turn.then(() => this.#try(() => this.#keep(athlete)));
		await this.#turn;
	}

	async #keep(athlete: Athlete): Promise<void> {
		const { id, name } = athlete;
		const kept = await saveAthlete(this.store, athlete, this.#agreed.get(id)).catch((problem: unknown) => {
			this.#refusal = `This browser refuses to write: what was changed of ${name} lasts as long as the page.`;
			throw problem;
		});
		this.#refusal = kept
			? ''
			: `${name} was deleted or merged elsewhere, so what was changed here was not kept.`;
		if (!kept) return this.#read();
		// Changed again meanwhile: the screen takes over what came from elsewhere once that is kept.
		const isLatest = this.#latest.get(id) === athlete;
		this.#agreed.set(id, isLatest ? kept : athlete);
		if (isLatest && Object.keys(changedMembers(athlete, kept)).length > 0) this.#show(kept);
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

	/** From now on sessions are this athlete's. */
	async choose(id: string): Promise<void> {
		const athlete = this.#athletes.find((one) => one.id === id);
		if (!athlete) return;
		this.#athlete = athlete;
		await this.#try(() => setSetting(this.store, 'athlete', id));
	}

	/** Keeps who stands in which corner; a corner with nobody in it is none. */
	async setCorners(ids: readonly (string | undefined)[]): Promise<void> {
		const taken = ids.filter((id) => id !== undefined);
		const corners = taken.length > 1 ? taken : [];
		if (corners.join() === this.#corners.join()) return;
		this.#corners = corners;
		await this.#try(() => setSetting(this.store, 'corners', corners));
	}

	/** Adds somebody and chooses them. */
	async add(name: string): Promise<void> {
		const athlete: Athlete = { id: crypto.randomUUID(), name };
		await this.setAthlete(athlete);
		await this.choose(athlete.id);
	}

	/** Deletes an athlete with their sessions. */
	async remove(id: string): Promise<void> {
		const known = this.#athletes;
		await this.#try(async () => {
			await (await goneAthletes()).deleteAthlete(this.store, id);
		});
		await this.load();
		this.#standIn = this.#athletes.find((athlete) => !known.some((one) => one.id === athlete.id))?.id;
	}

	async bringBack(id: string): Promise<void> {
		const standIn = this.#athletes.find((athlete) => athlete.id === this.#standIn);
		await this.#try(async () => {
			const { deleteAthlete, restoreAthlete } = await goneAthletes();
			await restoreAthlete(this.store, id);
			if (standIn && Object.keys(standIn).length === 2) await deleteAthlete(this.store, standIn.id);
		});
		await this.load();
		await this.choose(id);
	}

	async setUnits(units: Settings['units']): Promise<void> {
		this.#units = units;
		await this.#try(() => setSetting(this.store, 'units', units));
	}

	async setTheme(theme: Settings['theme']): Promise<void> {
		this.#theme = theme;
		await this.#try(() => setSetting(this.store, 'theme', theme));
	}

	async setKeys(hasKeys: boolean): Promise<void> {
		this.#hasKeys = hasKeys;
		await this.#try(() => setSetting(this.store, 'hasKeys', hasKeys));
	}

	async setPlan(plan: Plan): Promise<void> {
		this.#plan = plan;
		// One half typed is shown and not kept: the store is not to blame, and the last whole one stays.
		if (check(planSchema, plan).problem === undefined)
			await this.#try(() => setSetting(this.store, 'lastPlan', plan));
	}

	async setBell(bell: BellSettings): Promise<void> {
		this.#bell = bell;
		await this.#try(() => setSetting(this.store, 'bell', bell));
	}

	async setSpoken(isSpoken: boolean): Promise<void> {
		this.#isSpoken = isSpoken;
		await this.#try(() => setSetting(this.store, 'spokenPrompts', isSpoken));
	}

	async setAsked(): Promise<void> {
		this.#isAsked = true;
		await this.#try(() => setSetting(this.store, 'firstQuestionsAsked', true));
	}

	/** Keeps a plan as the athlete's own, in place of the own plan of that name. */
	async keepPlan(plan: Plan): Promise<void> {
		const id = this.#ownPlans.find((own) => own.plan.name === plan.name)?.id ?? crypto.randomUUID();
		await this.#try(async () => {
			await savePlan(this.store, { id, plan });
			this.#ownPlans = (await listPlans(this.store)).plans;
		});
	}

	async dropPlan(id: string): Promise<void> {
		await this.#try(async () => {
			await deletePlan(this.store, id);
			this.#ownPlans = (await listPlans(this.store)).plans;
		});
	}

	async #try(work: () => Promise<void>): Promise<void> {
		try {
			await work();
			this.#problem = undefined;
		} catch (problem) {
			this.#problem = problem;
		}
	}
}
