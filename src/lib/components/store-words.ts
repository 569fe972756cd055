import type { StoreError, StoreErrorCode } from '$lib/store/database';

const reasons: Record<StoreErrorCode, string> = {
	full: 'The disk, or this page’s share of it, is full.',
	blocked: 'This browser gives the page no storage (a private window, or a setting).',
	failed: 'This browser’s store refuses to write.'
};

/** Why the store refuses, as a sentence; whatever is no `StoreError` refuses without a known reason. */
export function storeReason(problem: unknown): string {
	const { code } = problem as Partial<StoreError>;
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
