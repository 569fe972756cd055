import { isObject } from './database';
import { recordBodySchema, type RecordBody } from '$lib/record/body';
import { check, type Checked } from '$lib/record/check';
import { recordHeadSchema, type RecordHead } from '$lib/record/head';
import { migrated } from '$lib/record/migrations';
import { summarySchema, type Summary } from '$lib/record/summary';

/** Where the parts of a session lie, and how each is read. */
export const headKey = (id: string) => `head/${id}`;
export const bodyKey = (id: string) => `body/${id}`;
export const tombstoneKey = (id: string) => `tombstone/${id}`;

export function checkHead(stored: unknown): Checked<RecordHead> {
	const { value: form, problem } = migrated('head', isObject(stored) ? stored.head : stored);
	return problem === undefined ? check(recordHeadSchema, form) : { problem };
}

export function checkBody(stored: unknown): Checked<RecordBody> {
	const { value: form, problem } = migrated('body', stored);
	return problem === undefined ? check(recordBodySchema, form) : { problem };
}

/** The summary beside a stored head; absent where none was saved, or one by other methods. */
export function currentSummary(stored: unknown): { summary?: Summary } {
	const { value } = check(summarySchema, isObject(stored) ? stored.summary : undefined);
	return value ? { summary: value } : {};
}

/** When the session of a stored head began, ISO 8601 in UTC, and whose it was that day. */
export function originOf(stored: unknown): Checked<{ startedAt: string; athleteId: string }> {
	const { value, problem } = checkHead(stored);
	return value ? { value: { startedAt: value.startedAt, athleteId: value.athlete.athleteId } } : { problem };
}
