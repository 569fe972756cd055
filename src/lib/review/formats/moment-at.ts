import type { RecordHead } from '$lib/record/head';

/** An elapsed moment of a session on the wall clock, ISO 8601 in UTC to the millisecond. */
export const momentAt = ({ startedAt }: Pick<RecordHead, 'startedAt'>, ms: number): string =>
	new Date(Date.parse(startedAt) + Math.round(ms)).toISOString();
