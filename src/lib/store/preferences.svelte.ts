import type { Athlete } from '$lib/session/record-schema';
import { listAthletes, saveAthlete } from './athletes';
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
	#plan = $state.raw<Plan>()!;
	#bell = $state.raw<BellSettings>()!;
	#ownPlans = $state.raw<readonly OwnPlan[]>([]);
	#isAsked = $state(false);
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
	get plan(): Plan {
		return this.#plan;
	}
	get bell(): BellSettings {
		return this.#bell;
	}
	get ownPlans(): readonly OwnPlan[] {
		return this.#ownPlans;
	}
	/** The one question of the first visit was answered or skipped. */
	get isAsked(): boolean {
		return this.#isAsked;
	}
	/** Why something could not be read or kept, the latest of them. */
	get problem(): unknown {
		return this.#problem;
	}

	async load(): Promise<void> {
		await this.#try(async () => {
			const [athletes, plan, bell, asked, own] = await Promise.all([
				listAthletes(this.store),
				getSetting(this.store, 'lastPlan', this.#plan),
				getSetting(this.store, 'bell', this.#bell),
				getSetting(this.store, 'firstQuestionsAsked', false),
				listPlans(this.store)
			]);
			this.#athlete = athletes.athletes[0] ?? this.#athlete;
			this.#plan = plan.value;
			this.#bell = bell.value;
			this.#isAsked = asked.value;
			this.#ownPlans = own.plans;
		});
		this.#isLoaded = true;
	}

	async setAthlete(athlete: Athlete): Promise<void> {
		this.#athlete = athlete;
		await this.#try(() => saveAthlete(this.store, athlete));
	}

	async setPlan(plan: Plan): Promise<void> {
		this.#plan = plan;
		await this.#try(() => setSetting(this.store, 'lastPlan', plan));
	}

	async setBell(bell: BellSettings): Promise<void> {
		this.#bell = bell;
		await this.#try(() => setSetting(this.store, 'bell', bell));
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
