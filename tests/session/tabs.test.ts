import { afterEach, describe, expect, it, vi } from 'vitest';
import { type LiveView, viewOf } from '$lib/session/live-view';
import type { Phase } from '$lib/rounds/timeline';
import { lockHeldFor, sessionUnlocked, takeSessionLock } from '$lib/session/session-lock';
import { Tabs } from '$lib/session/tabs.svelte';
import { Teller } from '$lib/session/telling';
import { fakeLocks } from './fake-locks';
import { makeTabs } from './listening-tabs';
import { recordedBeats } from './recorded-beats';

function liveView(): LiveView {
	const { recorder } = recordedBeats(100, 500);
	return viewOf(recorder, recorder.advance());
}

const timeline: Phase[] = [];
const told = (view: LiveView) => ({ view, timeline, speed: 1 });

let teller = new Teller();
afterEach(() => void (teller = new Teller()));

describe('the recording lock', () => {
	it('is had by one at a time, and can be waited for', async () => {
		const locks = fakeLocks();
		const giveBack = await takeSessionLock(locks);
		expect(giveBack).toBeDefined();
		expect(await lockHeldFor(locks)).toBe('recording');
		expect(await takeSessionLock(locks)).toBeUndefined();
		const unlocked = vi.fn();
		void sessionUnlocked(locks).then(unlocked);
		await Promise.resolve();
		expect(unlocked).not.toHaveBeenCalled();
		giveBack!();
		await vi.waitFor(() => expect(unlocked).toHaveBeenCalled());
		expect(await lockHeldFor(locks)).toBeUndefined();
		expect(await takeSessionLock(locks)).toBeDefined();
	});

	it('keeps nobody out where the browser has no locks, or refuses them', async () => {
		expect(await takeSessionLock(undefined)).toBeDefined();
		expect(await lockHeldFor(undefined)).toBeUndefined();
		const refusing = {
			request: () => Promise.reject(new DOMException('opaque origin', 'SecurityError')),
			query: () => Promise.reject(new DOMException('opaque origin', 'SecurityError'))
		} as unknown as LockManager;
		expect(await takeSessionLock(refusing)).toBeDefined();
		expect(await lockHeldFor(refusing)).toBeUndefined();
	});
});

describe('two tabs', () => {
	it('has one that records and one that watches the very view, until it is given back', async () => {
		const locks = fakeLocks();
		const [recording, watching] = [makeTabs(locks), makeTabs(locks)];
		expect(await recording.take()).toBe(true);
		expect(await watching.take()).toBe(false);
		await vi.waitFor(() => expect(watching.isRecordingElsewhere).toBe(true));
		expect(recording.isRecordingElsewhere).toBe(false);

		const view = liveView();
		recording.show(told(view), teller);
		await vi.waitFor(() => expect(watching.watched).toBeDefined());
		expect(watching.watched).toEqual(view);

		recording.giveBack();
		await vi.waitFor(() => expect(watching.isRecordingElsewhere).toBe(false));
		expect(watching.watched).toBeUndefined();
		expect(await watching.take()).toBe(true);
	});

	it('lets a tab that came first learn of it by the first view', async () => {
		const locks = fakeLocks();
		const [recording, watching] = [makeTabs(locks), makeTabs(locks)];
		await recording.take();
		expect(watching.isRecordingElsewhere).toBe(false);
		recording.show(told(liveView()), teller);
		await vi.waitFor(() => expect(watching.isRecordingElsewhere).toBe(true));
	});

	it('sends a change at once and the same phase four times a second at most', async () => {
		const locks = fakeLocks();
		const [recording, watching] = [makeTabs(locks), makeTabs(locks)];
		await recording.take();
		const view = liveView();
		recording.show(told(view), teller);
		recording.show(told({ ...view, remainingMs: 1 }), teller);
		recording.show(told({ ...view, remainingMs: 2, isPaused: true }), teller);
		await vi.waitFor(() => expect(watching.watched?.isPaused).toBe(true));
		await new Promise((resolve) => setTimeout(resolve, 20));
		const before = watching.watched;
		recording.show(told({ ...view, remainingMs: 3, isPaused: true }), teller);
		await new Promise((resolve) => setTimeout(resolve, 20));
		expect(watching.watched).toBe(before);
	});

	it('tells of every quarter of a second where another tab has answered, and else of changes alone', async () => {
		const quarter = () => new Promise((resolve) => setTimeout(resolve, 270));
		const view = liveView();
		const post = vi.spyOn(BroadcastChannel.prototype, 'postMessage');
		const posted = () => post.mock.calls.filter(([message]) => (message as { told?: unknown }).told).length;
		try {
			const recording = makeTabs(fakeLocks());
			await recording.take();
			recording.show(told(view), teller);
			await quarter();
			recording.show(told({ ...view, remainingMs: 1 }), teller);
			expect(posted()).toBe(1);

			const watching = makeTabs(fakeLocks());
			await vi.waitFor(() => expect(watching.watched?.remainingMs).toBe(1));
			await quarter();
			recording.show(told({ ...view, remainingMs: 2 }), teller);
			await vi.waitFor(() => expect(watching.watched?.remainingMs).toBe(2));

			// One that was there before the session began is heard of in it, too.
			recording.giveBack();
			await recording.take();
			recording.show(told(view), teller);
			await quarter();
			recording.show(told({ ...view, remainingMs: 3 }), teller);
			await vi.waitFor(() => expect(watching.watched?.remainingMs).toBe(3));
		} finally {
			post.mockRestore();
		}
	});

	it('sends an error of the store in words, whatever it is made of', async () => {
		const locks = fakeLocks();
		const [recording, watching] = [makeTabs(locks), makeTabs(locks)];
		await recording.take();
		recording.show(
			told({ ...liveView(), writeProblem: { toString: () => 'full', cannot: () => 'be cloned' } }),
			teller
		);
		await vi.waitFor(() => expect(watching.watched?.writeProblem).toBe('full'));
	});

	it('tells a changed timeline at once, even within one phase', async () => {
		const locks = fakeLocks();
		const [recording, watching] = [makeTabs(locks), makeTabs(locks)];
		await recording.take();
		const view = liveView();
		recording.show(told(view), teller);
		const longer = [{ ...view.phase!, endMs: 1e6 }];
		recording.show({ ...told(view), timeline: longer }, teller);
		await vi.waitFor(() => expect(watching.heard?.told.timeline).toEqual(longer));
	});

	it('answers a tab that opens in mid-session, with the time that has gone by since it last told', async () => {
		const locks = fakeLocks();
		const recording = makeTabs(locks);
		await recording.take();
		const view = liveView();
		recording.show({ ...told(view), speed: 60 }, teller);
		await new Promise((resolve) => setTimeout(resolve, 50));
		const late = makeTabs(locks);
		await vi.waitFor(() => expect(late.heard).toBeDefined());
		// 50 ms at sixty times the pace are three seconds.
		expect(late.heard!.told.view.elapsedMs - view.elapsedMs).toBeGreaterThan(2900);
		expect(late.watched?.corners).toEqual(view.corners);
		recording.giveBack();
		await vi.waitFor(() => expect(late.heard).toBeUndefined());
	});

	it('answers nothing where nothing runs', async () => {
		const locks = fakeLocks();
		makeTabs(locks);
		const late = makeTabs(locks);
		await new Promise((resolve) => setTimeout(resolve, 20));
		expect(late.heard).toBeUndefined();
	});

	it('knows of the other as soon as it has looked, without waiting for its end', async () => {
		const locks = fakeLocks();
		await new Tabs(locks).take();
		const late = new Tabs(locks);
		await late.look();
		expect(late.isRecordingElsewhere).toBe(true);
	});

	it('asks twice for nothing: a tab that records cannot begin again', async () => {
		const tabs = makeTabs(fakeLocks());
		expect(await Promise.all([tabs.take(), tabs.take()])).toEqual([true, false]);
		expect(tabs.isRecordingElsewhere).toBe(false);
	});
});
