import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { saveAthlete } from '$lib/store/athletes';
import { addEdit } from '$lib/store/edits';
import { deleteSession, purgeDeleted, readSession, restoreSession } from '$lib/store/sessions';
import { read, valueAt } from '$lib/store/database';
import { deletePlan, savePlan } from '$lib/store/plans';
import { padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { dayMs, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';

const ids = ['a', 'b', 'c'];
const who = fc.integer({ min: 0, max: 1 });
const which = fc.constantFrom(...ids);
/** Two laptops do things in the same millisecond, too, and now and then a day goes by. */
const waitMs = fc.constantFrom(0, 0, 1, 1000, dayMs);

const steps = fc.array(
	fc.oneof(
		fc.record({
			does: fc.constantFrom('box' as const, 'delete' as const, 'undo' as const),
			who,
			which,
			waitMs
		}),
		fc.record({
			does: fc.constant('edit' as const),
			who,
			which,
			waitMs,
			note: fc.constantFrom('x', 'y', 'z')
		}),
		fc.record({ does: fc.constant('card' as const), who, waitMs, bpm: fc.integer({ min: 150, max: 180 }) }),
		fc.record({
			does: fc.constantFrom('plan' as const, 'drop plan' as const),
			who,
			waitMs,
			roundS: fc.integer({ min: 30, max: 300 })
		}),
		fc.record({ does: fc.constantFrom('visit' as const, 'copy' as const, 'purge' as const), who, waitMs })
	),
	{ maxLength: 25 }
);

const lies = (laptop: Laptop, key: string) =>
	read(laptop.store, async (objects) => (await valueAt(objects, key)) !== undefined);

describe('two laptops, whatever they do and in whatever order files are copied', () => {
	it('come to the same state, lose nothing that was kept and bring back nothing that was deleted', async () => {
		await fc.assert(
			fc.asyncProperty(steps, async (all) => {
				const laptops = [
					await makeLaptop(new FakeFolder(), nerea),
					await makeLaptop(new FakeFolder(), nerea)
				];
				// Known to both from the start, so that they have something to contradict each other about.
				await laptops[0]!.box('a0');
				await laptops[0]!.visit(noonMs);
				laptops[1]!.folder.copyFrom(laptops[0]!.folder);
				await laptops[1]!.visit(noonMs);
				const boxed = new Set(['a0']);
				const deleted = new Set<string>();
				const undone = new Set<string>();
				let nowMs = noonMs;
				for (const step of all) {
					nowMs += step.waitMs;
					const laptop = laptops[step.who]!;
					// Who boxes where is told by the id, so that no two sessions share one.
					const id = 'which' in step ? step.which + (step.does === 'box' ? step.who : '') : '';
					if (step.does === 'box' && !boxed.has(id)) {
						await laptop.box(id);
						boxed.add(id);
					}
					for (const one of ids.flatMap((letter) => [`${letter}0`, `${letter}1`])) {
						if (!('which' in step) || step.does === 'box' || !one.startsWith(step.which)) continue;
						if (!(await lies(laptop, `head/${one}`))) continue;
						const isGone = await lies(laptop, `tombstone/${one}`);
						if (step.does === 'edit' && !isGone)
							await addEdit(laptop.store, one, { at: iso(nowMs), note: step.note });
						if (step.does === 'delete' && !isGone) {
							await deleteSession(laptop.store, one, nowMs);
							deleted.add(one);
						}
						if (step.does === 'undo' && isGone) {
							await restoreSession(laptop.store, one);
							undone.add(one);
						}
					}
					if (step.does === 'card')
						await saveAthlete(laptop.store, { ...nerea, thresholdBpm: step.bpm, changedAt: iso(nowMs) });
					if (step.does === 'plan')
						await savePlan(laptop.store, { id: 'p1', plan: { ...padsPlan, roundS: step.roundS } }, nowMs);
					if (step.does === 'drop plan') await deletePlan(laptop.store, 'p1', nowMs);
					if (step.does === 'purge') await purgeDeleted(laptop.store, dayMs, nowMs);
					if (step.does === 'visit') await laptop.visit(nowMs);
					if (step.does === 'copy') laptop.folder.copyFrom(laptops[1 - step.who]!.folder);
				}
				for (let round = 0; round < 3; round++)
					for (const [i, laptop] of laptops.entries()) {
						laptop.folder.copyFrom(laptops[1 - i]!.folder);
						const { problems } = await laptop.visit(nowMs);
						expect(problems).toEqual([]);
					}
				const [one, other] = laptops as [Laptop, Laptop];
				expect(await one.state()).toEqual(await other.state());
				const left = await one.ids();
				for (const id of boxed) {
					if (!deleted.has(id)) expect(left).toContain(id);
					else if (!undone.has(id)) expect(left).not.toContain(id);
				}
				for (const id of left) expect((await readSession(one.store, id)).status).toBe('found');
			}),
			{ numRuns: 100 }
		);
	}, 240_000);
});
