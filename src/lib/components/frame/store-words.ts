import type { StoreSilent } from '$lib/record/journal';
import type { StoreError, StoreErrorCode } from '$lib/store/database';

const reasons: Record<StoreErrorCode | StoreSilent['code'], string> = {
	full: 'The disk, or this page’s share of it, is full.',
	blocked: 'This browser gives the page no storage (a private window, or a setting).',
	elsewhere: 'Another tab has gone on with this session.',
	silent: 'This browser’s store does not answer.',
	failed: 'This browser’s store refuses to write.'
};

/** Why the store refuses, as a sentence; whatever is neither `StoreError` nor `StoreSilent` refuses without a known reason. */
export function storeReason(problem: unknown): string {
	const { code } = problem as Partial<StoreError | StoreSilent>;
	return reasons[code ?? 'failed'];
}

/** Waits for what a press set going: why it was not done, in sentences; nothing where it was. */
export async function refusalOf(work: Promise<void>): Promise<string> {
	try {
		await work;
		return '';
	} catch (problem) {
		return `Not done. ${storeReason(problem)}`;
	}
}
