import { planRestore, restore } from '$lib/store/backup/restore';
import type { UseStore } from '$lib/store/database';
import { listPlans } from '$lib/store/plan-list';
import type { Plan } from '$lib/rounds/plan';
import { padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { makeLaptop, nerea, noonMs, type Laptop } from './laptop';

export const ladder: Plan = { ...padsPlan, name: 'Ladder' };
export const named = async ({ store }: Pick<Laptop, 'store'>) =>
	(await listPlans(store)).plans.map(({ plan: { name, roundS } }) => [name, roundS]);
/** Two laptops over one folder, and how both read and write it until nothing moves any more. */
export async function makeTwo() {
	const folder = new FakeFolder();
	const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder, nerea)];
	let ms = noonMs;
	const settle = async () => {
		for (let round = 0; round < 3; round++) for (const laptop of [one, other]) await laptop.visit(++ms);
	};
	return { folder, one, other, settle };
}
export async function restored(store: UseStore, text: string) {
	const plan = await planRestore(store, text);
	if (plan.status !== 'ready') throw new Error(plan.problem);
	await restore(store, plan);
	return plan.groups.find(({ kind }) => kind === 'Plans');
}
