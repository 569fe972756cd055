import type { Settings } from '$lib/record/settings';

interface VisitHint {
	theme: Settings['theme'];
	/** The question of the first visit was answered or skipped. */
	isKnown: boolean;
}

/**
 * Notes what `static/first-paint.js` has to know before the database can be asked. The one door to localStorage;
 * nothing but the first moment of a visit depends on it, so one that is missing or wrong does no harm.
 */
export function noteVisit(hint: VisitHint): void {
	try {
		localStorage.setItem('visit-hint', JSON.stringify(hint));
	} catch {
		// A browser without storage: each visit looks like a first one until it is known better.
	}
}
