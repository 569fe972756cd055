import { isGone } from './door';
import { StoreError } from '../database';

/** A call to it has waited for its answer for long. */
export const silentWords =
	'The folder does not answer: it may lie on a network drive that is away. It is waited for, and nothing is lost by that.';

/** Why a visit came to nothing, as a sentence. */
export function wordsFor(error: unknown): string {
	if (error instanceof StoreError)
		return error.code === 'full'
			? 'The disk is full: not everything was taken over. Nothing that was here is lost.'
			: 'This browser could not read or write what it keeps. Nothing in the folder was changed by that.';
	if (isGone(error))
		return 'The folder is not there any more: it was moved, renamed or removed. Choose it again.';
	if (error instanceof Error && error.name === 'QuotaExceededError')
		return 'The disk with the folder is full: not everything was written. It is tried again the next time.';
	return 'The folder could not be read or written now. It is tried again the next time.';
}
