// The words of one row of the register.
import type { RegisterRow } from './register';

/** Whether the athlete trained that day. */
export const isThere = (row: RegisterRow) => row.trainings.length > 0;
const own = (row: RegisterRow) => row.trainings.filter(({ isLeftOut }) => !isLeftOut);

/** What an athlete did on a day, in words. */
export function rowWords(row: RegisterRow): string {
	if (row.isRest) return 'rest';
	return own(row)
		.map(({ activity, minutes, session }) =>
			[activity, `${Math.round(minutes)} min`, ...(session ? ['strap'] : [])].join(', ')
		)
		.join('; ');
}
/** The efforts of a day, in order; a dash for one that is owed. */
export const effortWords = (row: RegisterRow) =>
	own(row)
		.map(({ effort }) => effort ?? '–')
		.join(' ');
