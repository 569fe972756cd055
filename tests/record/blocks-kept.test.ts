import { readFileSync } from 'node:fs';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { formOf } from '$lib/record/head';
import { RecordBuilder } from '$lib/record/record-builder';
import { blocksOf } from '$lib/rounds/blocks';
import { planSchema } from '$lib/rounds/plan-schema';
import { timelineOf } from '$lib/rounds/timeline';
import { parseSessionJson, sessionJson } from '$lib/store/export';
import { makeBlock, makePlan } from '../rounds/plans';
import { makeStart } from '../session/builders';

const fileOf = (name: string) => readFileSync(`tests/fixtures/${name}.json`, 'utf8');
function readFile(name: string) {
	const read = parseSessionJson(fileOf(name));
	if (read.status !== 'read') throw new Error(read.problem);
	return read.record;
}

describe('a record of before there were blocks', () => {
	it('reads as one block, in the form in which it was written', () => {
		const { head, body } = readFile('record-1');
		expect(head.version).toBe(1);
		expect(blocksOf(head.plan)).toEqual([
			{ activity: 'pads', roundCount: 6, roundS: 180, restS: 60, pauseS: 120 }
		]);
		expect(timelineOf(head.plan, head.amendments).some(({ block, toBlock }) => block ?? toBlock)).toBe(false);
		expect(JSON.parse(sessionJson({ head, body })).version).toBe(1);
	});
});

describe('a record of several blocks', () => {
	it('comes back as it was written, aims and added blocks included', () => {
		const record = readFile('record-2');
		const { edit: _, ...written } = JSON.parse(fileOf('record-2')) as Record<string, unknown>;
		expect(JSON.parse(sessionJson(record))).toMatchObject(written);
	});

	it('says by its form that an older page cannot measure it, and so do blocks that came while it ran', () => {
		const build = (plan = makePlan(), kind?: 'add block' | 'repeat block' | 'add round') => {
			const builder = new RecordBuilder();
			builder.push({ kind: 'start', start: makeStart({ plan }) });
			if (kind) builder.push({ kind: 'amendment', amendment: { kind, atMs: 1000 } });
			return builder.build(500_000)[0]!.head.version;
		};
		expect(build()).toBe(1);
		expect(build(makePlan(), 'add round')).toBe(1);
		expect(build(makePlan(), 'add block')).toBe(2);
		expect(build(makePlan(), 'repeat block')).toBe(2);
		expect(build(makePlan({ blocks: [makeBlock()] }))).toBe(2);
		expect(formOf(makePlan({ aim: { kind: 'easy' } }), [], [])).toBe(1);
	});

	it('with a block of no rounds is refused in plain words, and nothing is read of it', () => {
		const file = JSON.parse(fileOf('record-2')) as { head: { plan: { blocks: object[] } } };
		Object.assign(file.head.plan.blocks[1]!, { roundCount: 0 });
		const read = parseSessionJson(JSON.stringify(file));
		expect(read).toMatchObject({ status: 'refused' });
		expect(read.status === 'refused' && read.problem).toMatch(
			/^It is damaged at "plan\.blocks\.1\.roundCount": /
		);
	});

	it('keeps what a later page has written into its blocks', () => {
		const plan = makePlan({ blocks: [{ ...makeBlock(), reach: 3 } as never] });
		expect(v.parse(planSchema, plan)).toEqual(plan);
	});
});
