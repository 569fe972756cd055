import { createContext } from 'svelte';
import type { KeptSession } from '$lib/review/progress';
import type { KeptSessions } from '$lib/store/kept-sessions.svelte';

/** What the pages of one athlete share; made once by their layout. */
export interface AthletePages {
	/** The sessions of the athlete who is chosen. */
	kept: KeptSessions;
	/** Those of them that count, oldest first; absent until they are listed. */
	readonly counted: readonly KeptSession[] | undefined;
	/** There are others from before those of a year that the overview lists. */
	readonly hasOlder: boolean;
	/** So many days after its run a threshold is measured again. */
	readonly retestDays: number;
	setRetestDays: (days: number) => void;
	/** Why nothing can be shown; absent where something can. */
	readonly problem: string | undefined;
}

export const [getAthletePages, setAthletePages] = createContext<AthletePages>();
