import { describe, expect, it } from 'vitest';
import { failEveryRequest } from './every-request';
import { storeVerbs } from './store-verbs';
import { writingVerbs } from './writing-verbs';

// The long run, over all of them, is in `npm run faults`.
const sample = ['openJournal, finish:', 'listAthletes', 'addEdit'];

describe('a verb of the store of which one request fails', () => {
	it('writes all or nothing, says so, and works the next time', async () => {
		const verbs = storeVerbs.filter(({ name }) => sample.some((one) => `${name}:`.startsWith(one)));
		const { faults, failures } = await failEveryRequest(verbs);
		expect(failures).toEqual([]);
		expect(faults).toBeGreaterThan(60);
	});

	it('is played by the long run, whichever of them writes', () => {
		const played = new Set(storeVerbs.map(({ name }) => /^\w+/.exec(name)![0]));
		expect(writingVerbs()).toEqual([...played].sort());
	});
});
