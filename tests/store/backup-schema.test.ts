import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { edits, records } from './arbitraries';
import { makeRecord, padsPlan } from './builders';
import { freshStore } from './fresh-store';
import { defaultBellSettings } from '$lib/bell/settings';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import { bellSettingsSchema, settingSchemas } from '$lib/record/settings';
import { planSchema } from '$lib/rounds/plan-schema';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema } from '$lib/record/head';
import { saveAthlete } from '$lib/store/athletes';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { wholeBackup } from './whole-backup';
import { parseBackup } from '$lib/store/backup/form';
import { saveDay } from '$lib/store/days';
import { logFuel, saveGoal } from '$lib/store/fuel';
import { dayEntrySchema } from '$lib/record/day';
import { makeEntry, restDay } from '../review/training-days';
import { openJournal } from '$lib/store/journal';
import { addEdit } from '$lib/store/edits';
import { deleteSession } from '$lib/store/sessions';
import { savePlan } from '$lib/store/plans';
import { setSetting } from '$lib/store/settings';

interface Schema {
	$defs: Record<string, { properties?: Record<string, unknown> }>;
	properties: { entries: { items: { anyOf: { prefixItems: [{ pattern: string }, unknown] }[] } } };
}
const schema = JSON.parse(readFileSync('static/backup.schema.json', 'utf8')) as Schema;
const isValid = new Ajv2020({ strict: true, strictRequired: false, strictTuples: false }).compile(schema);

const now = new Date('2026-03-05T20:00:00.000Z');
const nerea: Athlete = {
	id: 'ath-1',
	name: 'Nerea',
	birthYear: 1998,
	thresholdBpm: 171.5,
	thresholdDate: '2026-02-20',
	thresholdSource: 'run',
	thresholdBasis: 'mean less 5 %',
	sex: 'female',
	heightCm: 168,
	weights: [{ date: '2026-03-01', kg: 61.4 }],
	groups: ['Juniors'],
	entersAllTraining: true,
	entersAllFood: true,
	olderThresholds: [{ bpm: 168, date: '2025-11-02', source: 'typed' }],
	notes: '=1+1'
};

/** A backup with one of everything that is kept. */
async function fullBackup(): Promise<string> {
	const store = freshStore();
	await saveAthlete(store, nerea);
	await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
	await openJournal(store, 's').finish([
		makeRecord({ id: 'rec-1' }),
		makeRecord({ id: 'rec-2', athlete: { athleteId: 'ath-2', name: 'Bo' } }),
		makeRecord({ id: 'rec-3' })
	]);
	await addEdit(store, 'rec-1', {
		at: '2026-03-02T19:10:00.000Z',
		title: 'Pads with the left',
		roundEfforts: { 1: 5 },
		restsSetAside: [{ round: 1, reason: 'strap slipped' }]
	});
	await deleteAthlete(store, 'ath-2', now.getTime());
	await deleteSession(store, 'rec-3', now.getTime());
	await savePlan(store, { id: 'plan-1', plan: padsPlan });
	await setSetting(store, 'lastPlan', padsPlan);
	await setSetting(store, 'lastPlans', [padsPlan]);
	await setSetting(store, 'bell', defaultBellSettings);
	await setSetting(store, 'firstQuestionsAsked', true);
	await setSetting(store, 'spokenPrompts', true);
	await setSetting(store, 'hasKeys', false);
	await setSetting(store, 'theme', 'light');
	await setSetting(store, 'athlete', 'ath-1');
	await setSetting(store, 'corners', ['ath-1', 'ath-3']);
	await setSetting(store, 'units', 'imperial');
	await setSetting(store, 'retestAfterDays', 60);
	await logFuel(store, 'weight', 'ath-1', '2026-03-01', 61.4);
	await logFuel(store, 'intake', 'ath-1', '2026-03-01', 2350);
	await saveGoal(store, 'ath-1', { kg: 60, date: '2026-05-01' });
	await saveDay(store, 'ath-1', '2026-03-01', {
		changed: { entries: [makeEntry({ groupId: 'g1', sameAs: 'rec-1', beside: ['rec-2'] })], allFood: true }
	});
	await saveDay(store, 'ath-1', '2026-03-02', { changed: restDay });
	return (await wholeBackup(store, now)).text;
}

type Json = Record<string, unknown>;

function placesIn(value: unknown): string[][] {
	if (typeof value !== 'object' || value === null) return [[]];
	const inside = Object.entries(value).flatMap(([key, part]) => placesIn(part).map((rest) => [key, ...rest]));
	return [[], ...inside];
}

function replacedAt(value: unknown, [key, ...rest]: readonly string[], replacement: unknown): unknown {
	if (key === undefined) return replacement;
	const copy = (Array.isArray(value) ? [...(value as unknown[])] : { ...(value as Json) }) as Json;
	copy[key] = replacedAt((value as Json)[key], rest, replacement);
	return copy;
}

describe('the published form of a backup (a JSON Schema 2020-12 validator)', () => {
	it('fits a backup of one of everything, and knows every kind of entry that a backup has', async () => {
		const content = JSON.parse(await fullBackup()) as { entries: [string, unknown][] };
		isValid(content);
		expect(isValid.errors).toBeNull();
		for (const { prefixItems } of schema.properties.entries.items.anyOf) {
			const pattern = new RegExp(prefixItems[0].pattern);
			expect([pattern, content.entries.some(([key]) => pattern.test(key))]).toEqual([pattern, true]);
		}
		const settings = Object.keys(settingSchemas).filter((name) => name !== 'lastBackupAt');
		for (const name of settings) expect(content.entries.map(([key]) => key)).toContain(`setting/${name}`);
	});

	it('fits the released backup that the tests keep', () => {
		isValid(JSON.parse(readFileSync('tests/fixtures/backup-1.json', 'utf8')));
		expect(isValid.errors).toBeNull();
	});

	it('fits whatever was recorded', async () => {
		await fc.assert(
			fc.asyncProperty(records, edits, async (record, edit) => {
				const store = freshStore();
				await openJournal(store, 's').finish([record]);
				await addEdit(store, record.head.id, { at: '2026-03-02T19:10:00.000Z', ...edit });
				isValid(JSON.parse((await wholeBackup(store, now)).text));
				expect(isValid.errors).toBeNull();
			}),
			{ numRuns: 40, seed: 7 }
		);
	});

	it('refuses nothing that restoring would take', async () => {
		const content: unknown = JSON.parse(await fullBackup());
		const wrong = fc.constantFrom<unknown>(null, -1, 0.5, 1e300, 'x', '', true, [], {}, [null]);
		await fc.assert(
			fc.asyncProperty(fc.constantFrom(...placesIn(content)), wrong, async (place, replacement) => {
				const damaged = replacedAt(content, place, replacement);
				if (isValid(damaged)) return;
				const { problem } = await parseBackup(JSON.stringify(damaged), () => Promise.resolve());
				expect([place, replacement, problem]).toEqual([place, replacement, expect.any(String)]);
			}),
			{ numRuns: 400, seed: 8 }
		);
	});

	it.each([
		['athlete', athleteSchema],
		['head', recordHeadSchema],
		['edit', recordEditSchema],
		['plan', planSchema],
		['bell', bellSettingsSchema],
		['entry', dayEntrySchema]
	] as const)('describes every member of %s: one added to the store is added to the form', (name, stored) => {
		const { entries } = stored as unknown as { entries: Json };
		expect(Object.keys(schema.$defs[name]!.properties!).sort()).toEqual(Object.keys(entries).sort());
	});
});
