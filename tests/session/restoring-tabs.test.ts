import { describe, expect, it, vi } from 'vitest';
import { whyNotReady, whyNoRestore } from '$lib/session/readiness';
import type { Tabs } from '$lib/session/tabs.svelte';
import { fakeLocks } from './fake-locks';
import { makeTabs } from './listening-tabs';

const connected = { state: 'connected' } as const;

/** A restore that goes on until it is ended. */
function begun(tabs: Tabs) {
	let end = () => {};
	const done = tabs.restoreAlone(() => new Promise<void>((resolve) => (end = resolve)));
	return { done, end: () => end() };
}

describe('a restore', () => {
	it('is not begun while a tab records, this one or another, and the screen says what to do', async () => {
		const locks = fakeLocks();
		const [recording, other] = [makeTabs(locks), makeTabs(locks)];
		await recording.take();
		const work = vi.fn(() => Promise.resolve());
		expect(await other.restoreAlone(work)).toBe(false);
		expect(await recording.restoreAlone(work)).toBe(false);
		expect(work).not.toHaveBeenCalled();
		await vi.waitFor(() => expect(other.isRecordingElsewhere).toBe(true));
		expect(other.isRestoring).toBe(false);
		expect(whyNoRestore(other, 'setting up')).toMatch(/Another tab is recording\. Finish the session there/);
		expect(whyNoRestore(recording, 'running')).toMatch(/Finish the session that runs/);
		expect(whyNoRestore(recording, 'not kept')).toMatch(/not kept yet.*Save it or leave it/);

		recording.giveBack();
		await vi.waitFor(() => expect(whyNoRestore(other, 'setting up')).toBeUndefined());
		expect(await other.restoreAlone(work)).toBe(true);
		expect(work).toHaveBeenCalledOnce();
	});

	it('lets no session begin in its midst, here or in another tab, and each says why', async () => {
		const locks = fakeLocks();
		const [restoring, before] = [makeTabs(locks), makeTabs(locks)];
		const restore = begun(restoring);
		await vi.waitFor(() => expect(restoring.isRestoring).toBe(true));
		const after = makeTabs(locks);
		await vi.waitFor(() => expect(after.isRestoring).toBe(true));
		for (const tabs of [restoring, before, after]) expect(await tabs.take()).toBe(false);
		await vi.waitFor(() => expect(before.isRestoring).toBe(true));
		for (const tabs of [restoring, before, after]) {
			expect(tabs.isRecordingElsewhere).toBe(false);
			expect(whyNotReady(tabs, 'setting up', connected)).toMatch(/A backup is being restored/);
			expect(whyNoRestore(tabs, 'setting up')).toMatch(/restored already/);
		}
		restore.end();
		expect(await restore.done).toBe(true);
		await vi.waitFor(() => expect(after.isRestoring || before.isRestoring).toBe(false));
		expect(restoring.isRestoring).toBe(false);
		expect(whyNotReady(after, 'setting up', connected)).toBeUndefined();
		expect(await before.take()).toBe(true);
	});

	it('that fails lets others record again', async () => {
		const locks = fakeLocks();
		const [restoring, other] = [makeTabs(locks), makeTabs(locks)];
		await expect(restoring.restoreAlone(() => Promise.reject(new Error('full')))).rejects.toThrow('full');
		expect(restoring.isRestoring).toBe(false);
		await vi.waitFor(async () => expect(await other.take()).toBe(true));
	});

	it('goes on where the browser has no locks', async () => {
		const work = vi.fn(() => Promise.resolve());
		expect(await makeTabs(undefined).restoreAlone(work)).toBe(true);
		expect(work).toHaveBeenCalledOnce();
	});
});

it('starts nothing beside a session that is not kept yet, and says where it is', () => {
	const free = { isRecordingElsewhere: false, isRestoring: false };
	for (const stage of ['saving', 'not kept'] as const)
		expect(whyNotReady(free, stage, connected)).toBe(
			'The last session is not kept yet: go back to it first.'
		);
	expect(whyNotReady(free, 'kept', connected)).toBeUndefined();
});
