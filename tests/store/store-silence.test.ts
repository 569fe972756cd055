import { afterEach, describe, expect, it, vi } from 'vitest';
import { arm } from '../faults/faulty-requests';
import { freshStore } from './fresh-store';
import { answerWithinMs } from '$lib/record/journal';
import { openDatabase } from '$lib/store/database';
import { setSetting } from '$lib/store/settings';
import { StoreSilence } from '$lib/store/store-silence.svelte';

afterEach(() => {
	arm();
	vi.useRealTimers();
	vi.unstubAllGlobals();
});

const turns = async () => {
	for (let turn = 0; turn < 20; turn++) await new Promise((resolve) => setImmediate(resolve));
};

describe('a store that does not answer', () => {
	it('is said not to after five seconds, whatever was asked of it before', async () => {
		vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
		const store = freshStore();
		await setSetting(store, 'units', 'metric');
		const silence = new StoreSilence(store);
		// The transaction of the setting is never begun.
		arm({ kind: 'silence', step: 1 });
		void setSetting(store, 'units', 'imperial');
		await turns();
		void silence.ask();
		await turns();
		vi.advanceTimersByTime(answerWithinMs - 1);
		expect(silence.isSilent).toBe(false);
		vi.advanceTimersByTime(1);
		expect(silence.isSilent).toBe(true);
	});

	it('is none where it answers, nor where it refuses', async () => {
		vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
		const silence = new StoreSilence(freshStore());
		await silence.ask();
		vi.stubGlobal('indexedDB', undefined);
		const refused = new StoreSilence(openDatabase());
		await refused.ask();
		vi.advanceTimersByTime(2 * answerWithinMs);
		expect([silence.isSilent, refused.isSilent]).toEqual([false, false]);
	});
});
