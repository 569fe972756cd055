import { preloadCode } from '$app/navigation';
import { createRinger } from '$lib/bell/ringer';
import { defaultBellSettings } from '$lib/bell/settings';
import type { Athlete } from '$lib/record/athlete';
import { dayOf } from '$lib/record/athlete-changes';
import { blockedBy } from '$lib/record/way-back';
import { knownBeforeOf, mostLookedAt } from '$lib/review/known-before';
import { ceilingOf } from '$lib/review/step-ceiling';
import type { Outside } from '$lib/session/live-session.svelte';
import type { UseStore } from '$lib/store/database';
import { openJournal } from '$lib/store/journal';
import { newestOfAthlete, openSessionIndex } from '$lib/store/session-index';
import { realClock } from '$lib/time/clock';

/** What a session needs of the other rooms: bell, store, and what the cards say of those who take part. */
export async function outsideOf(
	store: UseStore,
	cardOf: (athleteId: string) => Athlete | undefined
): Promise<Outside> {
	// No session begins whose screen cannot be had.
	await preloadCode('/live/');
	const today = () => dayOf(new Date());
	return {
		ringer: createRinger({ clock: realClock(), settings: defaultBellSettings }),
		openSink: (sessionId, isFound) => openJournal(store, sessionId, isFound),
		readBefore: async (athleteId, plan) => {
			const sessions = await newestOfAthlete(store, openSessionIndex(), athleteId, mostLookedAt);
			return knownBeforeOf(sessions, athleteId, plan);
		},
		whyBarred: (athleteId, plan) => {
			const athlete = cardOf(athleteId);
			return athlete && blockedBy(athlete, plan, today());
		},
		ceilingOf: (athleteId) => {
			const athlete = cardOf(athleteId);
			return athlete && ceilingOf(athlete, today());
		}
	};
}
