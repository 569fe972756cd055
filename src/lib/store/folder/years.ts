import { write } from '../database';
import { machineIn } from '../machine';
import { knowsYearsName } from './places';
import { wordText } from './text';
import type { Travel } from './travel';
import type { FolderVisit } from './visit';

/**
 * Says that this machine looks into the folders of the years, and finds out whether everybody does: only then is anything
 * written there. A laptop that has written nothing yet, and is to write nothing, says nothing either.
 */
export async function agreeOnYears(visit: FolderVisit, { consents }: Travel): Promise<void> {
	const me = await write(visit.store, machineIn);
	const { signers, knowing } = visit.known;
	if ((consents.size > 0 || signers.has(me)) && !knowing.has(me))
		await visit.say(knowsYearsName(me), await wordText(me));
	visit.writesByYear = [...signers].every((machine) => machine === me || knowing.has(machine));
}
