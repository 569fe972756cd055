import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeHead, makeRecord } from '../store/builders';
import { recordBodySchema } from '$lib/record/body';
import { check } from '$lib/record/check';
import { recordHeadSchema } from '$lib/record/head';
import { parseSessionJson, sessionJson } from '$lib/store/export';
import { migrated, type Migration } from '$lib/record/migrations';

/** An invented older form: the start under another name, and rates a text. */
const fromZero: Migration = {
	from: 0,
	head: ({ begunAt, ...rest }) => ({ ...rest, startedAt: begunAt }),
	body: ({ rates, ...rest }) => ({ ...rest, bpm: Uint8Array.from(String(rates).split(' ').map(Number)) })
};
const fromMinusOne: Migration = {
	from: -1,
	head: ({ start, ...rest }) => ({ ...rest, begunAt: start }),
	body: (old) => old
};

describe('migrating what an older version wrote', () => {
	it('leads a head and a body through every step in turn to today’s form', () => {
		const { startedAt, ...rest } = makeHead();
		const oldest = { ...rest, start: startedAt, version: -1 };
		const { value } = migrated('head', oldest, [fromMinusOne, fromZero]);
		expect(check(recordHeadSchema, value)).toEqual({ value: makeHead() });
		expect(oldest).toMatchObject({ version: -1, start: startedAt });

		const { bpm, ...columns } = makeRecord().body;
		const old = { ...columns, rates: bpm.join(' '), version: 0 };
		expect(check(recordBodySchema, migrated('body', old, [fromZero]).value)).toEqual({
			value: makeRecord().body
		});
	});

	it('leaves today’s form, a newer one and what has no form to the schema', () => {
		for (const form of [
			makeHead(),
			{ version: 2 },
			{ id: 'x' },
			null,
			'text',
			{ version: 0.5 },
			{ version: 'one' }
		])
			expect(migrated('head', form, [fromZero]).value).toBe(form);
	});

	it('says so where a step is missing or fails', () => {
		expect(migrated('head', { version: 0 })).toEqual({ problem: expect.stringMatching(/form 0/) });
		const failing: Migration = { ...fromZero, head: () => JSON.parse('{') as never };
		expect(migrated('head', { version: 0 }, [failing])).toEqual({
			problem: expect.stringMatching(/damaged/)
		});
	});

	it('leads a session that an older form wrote to a file through the same steps', () => {
		const record = makeRecord();
		const file = JSON.parse(sessionJson(record, { title: 'Pads' })) as {
			head: Record<string, unknown>;
			readings: Record<string, unknown>;
		};
		const { startedAt, ...head } = file.head;
		const { bpm, ...readings } = file.readings;
		const old = {
			...file,
			version: 0,
			head: { ...head, begunAt: startedAt },
			readings: { ...readings, rates: (bpm as number[]).join(' ') }
		};
		expect(parseSessionJson(JSON.stringify(old), [fromZero])).toEqual({
			status: 'read',
			record,
			edit: { title: 'Pads' }
		});
		expect(parseSessionJson(JSON.stringify(old))).toEqual({
			status: 'refused',
			problem: expect.stringMatching(/form 0, which no version of this page ever wrote/)
		});
	});

	it('reads a session that form 1 wrote to a file', () => {
		expect(parseSessionJson(readFileSync('tests/fixtures/record-1.json', 'utf8'))).toMatchObject({
			status: 'read',
			record: {
				head: { version: 1, id: 'rec-1', plan: { roundCount: 6 }, athlete: { thresholdBpm: 171.5 } },
				body: {
					firstMs: -2000,
					energyKJ: Uint16Array.of(12),
					rr1024: Uint16Array.of(410, 405, 404, 401, 399)
				}
			},
			edit: { title: 'Pads with the left', effort: 7 }
		});
	});
});
