import { check } from '$lib/record/check';
import { planSchema } from '$lib/rounds/plan-schema';
import type { Athlete } from '$lib/record/athlete';
import { onKept, touches } from './kept-changes';
import type { UseStore } from './database';
import { ShownCards } from './shown-cards.svelte';
import { listPlans, type OwnPlan } from './plan-list';
import { getSetting, setSetting } from './settings';
import { mostLastPlans, type Settings } from '$lib/record/settings';

type Plan = Settings['lastPlan'];
type BellSettings = Settings['bell'];

/** What takes athletes out and brings them back, for the rare day on which that is done. */
const goneAthletes = () => import('./gone-athletes');
const planWriter = () => import('./plans');

/** What holds before anything was ever chosen. */
export interface Defaults {
	plan: Plan;
	bell: BellSettings;
}

/**
 * What the athlete chose last, read once and kept with every change. Where the store gives nothing, the
 * defaults hold and changes last as long as the page: `problem` says so.
 */
export class Preferences extends ShownCards {
	#isLoaded = $state(false);
	/** Keys of settings that this window is writing itself, each as often as it is being written. */
	readonly #own: string[] = [];
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

	constructor(store: UseStore, defaults: Defaults) {
		super(store);
		this.#plan = defaults.plan;
		this.#bell = defaults.bell;
	}

	get isLoaded(): boolean {
		return this.#isLoaded;
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
	/** Reads what is kept, and from then on follows what is written elsewhere. */
	async load(): Promise<void> {
		if (!this.#isFollowing) onKept(this.store, (keys, isOtherWindow) => this.#follow(keys, isOtherWindow));
		this.#isFollowing = true;
		await this.turn;
		await this.try(() => this.#read());
		this.#isLoaded = true;
	}

	/** Cards and plans are everybody's; what another window is set to is its own, and no news here. */
	#follow(keys: ReadonlySet<string>, isOtherWindow: boolean): void {
		const isSet =
			!isOtherWindow && [...keys].some((key) => key.startsWith('setting/') && !this.#own.includes(key));
		if (!isSet && !touches(keys, 'athlete', 'plan')) return;
		this.turn = this.turn.then(() => {
			// A card that is shown and not kept yet stays on the screen; keeping it leads here again.
			if (this.isAhead) return;
			return this.try(() => (isSet ? this.#read() : this.#readPeople(this.athlete.id)));
		});
	}

	async #readPeople(chosenId: string): Promise<void> {
		const [own] = await Promise.all([listPlans(this.store), this.readCards(chosenId)]);
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
		const here = corners.value.filter((one) => this.athletes.some(({ id }) => id === one));
		this.#corners = here.length > 1 ? here : [];
		this.#units = units.value;
		this.#theme = theme.value;
		this.#hasKeys = hasKeys.value;
		this.#plan = plan.value;
		this.#bell = bell.value;
		this.#isAsked = asked.value;
		this.#isSpoken = spoken.value;
	}

	/** From now on sessions are this athlete's. */
	async choose(id: string): Promise<void> {
		await this.turn;
		if (this.showChosen(id)) await this.#keepSetting('athlete', id);
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
		const known = this.athletes;
		// Read first, so that why it was not done stays said.
		await this.try(async () => {
			try {
				await (await goneAthletes()).deleteAthlete(this.store, id);
			} finally {
				await this.load();
			}
		});
		this.#standIn = this.athletes.find((athlete) => !known.some((one) => one.id === athlete.id))?.id;
	}

	async bringBack(id: string): Promise<void> {
		const standIn = this.athletes.find((athlete) => athlete.id === this.#standIn);
		await this.try(async () => {
			try {
				const { deleteAthlete, restoreAthlete } = await goneAthletes();
				await restoreAthlete(this.store, id);
				if (standIn && Object.keys(standIn).length === 2) await deleteAthlete(this.store, standIn.id);
			} finally {
				await this.load();
			}
		});
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

	/** A session of this plan begins. */
	async usePlan(plan: Plan): Promise<void> {
		await this.setPlan(plan);
		await this.try(async () => {
			const { value } = await getSetting(this.store, 'lastPlans', []);
			const others = value.filter(({ name }) => name !== plan.name);
			await this.#keepSetting('lastPlans', [plan, ...others].slice(0, mostLastPlans));
		});
	}

	/** Read where an athlete's tests are shown. */
	async setRetestDays(days: number): Promise<void> {
		await this.#keepSetting('retestAfterDays', days);
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
		await this.try(async () => (await planWriter()).savePlan(this.store, { id, plan }));
		await this.turn;
	}

	async dropPlan(id: string): Promise<void> {
		await this.try(async () => (await planWriter()).deletePlan(this.store, id));
		await this.turn;
	}

	async #keepSetting<Name extends keyof Settings>(name: Name, value: Settings[Name]): Promise<void> {
		const key = `setting/${name}`;
		this.#own.push(key);
		await this.try(() => setSetting(this.store, name, value));
		this.#own.splice(this.#own.indexOf(key), 1);
	}
}
