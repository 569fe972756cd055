import { makeBackup, mostOfPart } from '$lib/store/backup/backup';
import type { UseStore } from '$lib/store/database';
import type { Tell } from '$lib/store/breathe';

/** A backup in one file, as the screen makes it of what tests keep. */
export const wholeBackup = (store: UseStore, now: Date, tell?: Tell) =>
	makeBackup(store, now, mostOfPart, tell);
