import { check } from '$lib/record/check';
import { planSchema } from '$lib/rounds/plan-schema';
import type { Athlete } from '$lib/record/athlete';
import { listAthletes } from './athlete-list';
import { onKept, touches } from './kept-changes';
import type { UseStore } from './database';
import { deletePlan, getSetting, listPlans, savePlan, setSetting, type OwnPlan } from './settings';
import type { Settings } from '$lib/record/settings';

type Plan = Settings['lastPlan'];
type BellSettings = Settings['bell'];

/** What changes a card, for the moment in which one is changed. */
const writer = () => import('./athletes');

/** What takes athletes out and brings them back, for the rare day on which that is done. */
const goneAthletes = () => import('./gone-athletes');

const mostShown = 500;

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
	/** Cards are written one after the other, in the order in which they were changed; what was written is read behind them. */
	#turn: Promise<void> = Promise.resolve();
	#refusal = $state('');
	/** So many changes to cards are on their way to the store: the screen is ahead of it. */
	#keeping = 0;
	/** Settings that this window is writing itself. */
	readonly #own = new Set<string>();
	/** The cards that this window has shown, by the moment of their last change: what a change was made to. */
	readonly #shown = new Map<string, Athlete>();
	#isFollowing = false;
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

	/** Reads what is kept, and from then on follows what is written elsewhere. */
	async load(): Promise<void> {
		if (!this.#isFollowing) onKept(this.store, (keys, isOtherWindow) => this.#follow(keys, isOtherWindow));
		this.#isFollowing = true;
		await this.#turn;
		await this.#try(() => this.#read());
		this.#isLoaded = true;
	}

	/** Cards and plans are everybody's; what another window is set to is its own, and no news here. */
	#follow(keys: ReadonlySet<string>, isOtherWindow: boolean): void {
		const isSet =
			!isOtherWindow && [...keys].some((key) => key.startsWith('setting/') && !this.#own.has(key));
		if (!isSet && !touches(keys, 'athlete', 'plan')) return;
		this.#turn = this.#turn.then(() => {
			// A card that is shown and not kept yet stays on the screen; keeping it leads here again.
			if (this.#keeping > 0) return;
			return this.#try(() => (isSet ? this.#read() : this.#readPeople(this.#athlete.id)));
		});
	}

	async #readPeople(chosenId: string): Promise<void> {
		const [{ athletes }, own] = await Promise.all([listAthletes(this.store), listPlans(this.store)]);
		this.#athletes = athletes;
		// One that is gone stays noted: it must not be taken for a new one.
		for (const card of athletes) this.#agree(card);
		this.#athlete = athletes.find(({ id }) => id === chosenId) ?? athletes[0] ?? this.#athlete;
		this.#ownPlans = own.plans;
	}

	async #read(): Promise<void> {
		const [plan, bell, asked, chosen, corners, units, spoken, theme, hasKeys] = await Promise.all([
			getSetting(this.store, 'lastPlan', this.#plan),
			getSetting(this.store, 'bell', this.#bell),
			getSetting(this.store, 'firstQuestionsAsked', false),
			getSetting(this.store, 'athlete', ''),
			getSetting(this.store, 'corners', []),
			getSetting(this.store, 'units', 'metric' as const),
			getSetting(this.store, 'spokenPrompts', true),
			getSetting(this.store, 'theme', 'dark' as const),
			getSetting(this.store, 'hasKeys', true)
		]);
		await this.#readPeople(chosen.value);
		const here = corners.value.filter((one) => this.#athletes.some(({ id }) => id === one));
		this.#corners = here.length > 1 ? here : [];
		this.#units = units.value;
		this.#theme = theme.value;
		this.#hasKeys = hasKeys.value;
		this.#plan = plan.value;
		this.#bell = bell.value;
		this.#isAsked = asked.value;
		this.#isSpoken = spoken.value;
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
		this.#turn = this.#turn.then(async () => {
			await this.#try(() => this.#keep(athlete, before));
			this.#keeping--;
		});
		await this.#turn;
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
		if (!kept) return this.#read();
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

	/** From now on sessions are this athlete's. */
	async choose(id: string): Promise<void> {
		await this.#turn;
		const athlete = this.#athletes.find((one) => one.id === id);
		if (!athlete) return;
		this.#athlete = athlete;
		await this.#keepSetting('athlete', id);
	}

	/** Keeps who stands in which corner; a corner with nobody in it is none. */
	async setCorners(ids: readonly (string | undefined)[]): Promise<void> {
		const taken = ids.filter((id) => id !== undefined);
		const corners = taken.length > 1 ? taken : [];
		if (corners.join() === this.#corners.join()) return;
		this.#corners = corners;
		await this.#keepSetting('corners', corners);
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
		await this.#keepSetting('units', units);
	}

	async setTheme(theme: Settings['theme']): Promise<void> {
		this.#theme = theme;
		await this.#keepSetting('theme', theme);
	}

	async setKeys(hasKeys: boolean): Promise<void> {
		this.#hasKeys = hasKeys;
		await this.#keepSetting('hasKeys', hasKeys);
	}

	async setPlan(plan: Plan): Promise<void> {
		this.#plan = plan;
		// One half typed is shown and not kept: the store is not to blame, and the last whole one stays.
		if (check(planSchema, plan).problem === undefined) await this.#keepSetting('lastPlan', plan);
	}

	async setBell(bell: BellSettings): Promise<void> {
		this.#bell = bell;
		await this.#keepSetting('bell', bell);
	}

	async setSpoken(isSpoken: boolean): Promise<void> {
		this.#isSpoken = isSpoken;
		await this.#keepSetting('spokenPrompts', isSpoken);
	}

	async setAsked(): Promise<void> {
		this.#isAsked = true;
		await this.#keepSetting('firstQuestionsAsked', true);
	}

	/** Keeps a plan as the athlete's own, in place of the own plan of that name. */
	async keepPlan(plan: Plan): Promise<void> {
		const id = this.#ownPlans.find((own) => own.plan.name === plan.name)?.id ?? crypto.randomUUID();
		await this.#try(() => savePlan(this.store, { id, plan }));
		await this.#turn;
	}

	async dropPlan(id: string): Promise<void> {
		await this.#try(() => deletePlan(this.store, id));
		await this.#turn;
	}

	async #keepSetting<Name extends keyof Settings>(name: Name, value: Settings[Name]): Promise<void> {
		this.#own.add(`setting/${name}`);
		await this.#try(() => setSetting(this.store, name, value));
		this.#own.delete(`setting/${name}`);
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
