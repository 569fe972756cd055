import { expect } from 'vitest';
import { deletePlan, savePlan } from '$lib/store/plans';
import { listPlans } from '$lib/store/plan-list';
import { shortPlan } from '../session/builders';
import type { Laptop } from './laptop';

/** Plans by id, each told by the length of its rounds: no two that were ever entered have the same one. */
export async function plansOn({ store }: Laptop): Promise<Map<string, number>> {
	return new Map((await listPlans(store)).plans.map(({ id, plan }) => [id, plan.roundS]));
}

/** What became of the plans that were entered: what each id showed when somebody changed or removed it is known to that. */
export class PlanDiary {
	readonly #known = new Map<string, Set<number>>();
	readonly #writers = new Set<Laptop>();
	/** What the last who wrote has since. */
	#last = new Map<string, number>();
	#entered = 0;

	async enter(laptop: Laptop, which: number, nowMs: number): Promise<void> {
		const ids = [...new Set(['p1', 'p2', ...(await plansOn(laptop)).keys()])];
		const id = ids[which % ids.length]!;
		await this.#note(laptop, id);
		const plan = { ...shortPlan, name: 'Ladder', roundS: ++this.#entered };
		await savePlan(laptop.store, { id, plan }, nowMs);
		await this.#wrote(laptop);
		expect(this.#last.get(id), 'a later change takes effect').toBe(plan.roundS);
	}

	async drop(laptop: Laptop, which: number, nowMs: number): Promise<void> {
		const ids = [...(await plansOn(laptop)).keys()];
		const id = ids[which % ids.length];
		if (id === undefined) return;
		await this.#note(laptop, id);
		await deletePlan(laptop.store, id, nowMs);
		await this.#wrote(laptop);
		expect([...this.#last.keys()]).not.toContain(id);
	}

	async #wrote(laptop: Laptop): Promise<void> {
		this.#writers.add(laptop);
		this.#last = await plansOn(laptop);
	}

	async #note(laptop: Laptop, id: string): Promise<void> {
		const shown = (await plansOn(laptop)).get(id);
		if (shown !== undefined) this.#known.set(id, (this.#known.get(id) ?? new Set()).add(shown));
	}

	/** Nothing is lost that nobody changed or removed in knowledge of it, and nothing comes back that somebody did. */
	expectKept(plans: ReadonlyMap<string, number>): void {
		for (const [id, roundS] of plans) expect(this.#known.get(id) ?? new Set()).not.toContain(roundS);
		const settled = new Set([...this.#known.values()].flatMap((all) => [...all]));
		const left = new Set(plans.values());
		for (let roundS = 1; roundS <= this.#entered; roundS++)
			if (!settled.has(roundS)) expect(left).toContain(roundS);
		if (this.#writers.size < 2)
			expect(plans, 'where one laptop writes, nothing stands beside').toEqual(this.#last);
	}
}
