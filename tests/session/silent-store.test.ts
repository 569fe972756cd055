import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { storeReason } from '$lib/components/frame/store-words';
import { defaultBellSettings } from '$lib/bell/settings';
import { StoreSilent, type Sink } from '$lib/record/journal';
import { LiveSession } from '$lib/session/live-session.svelte';
import { athlete, makeSink, shortPlan } from './builders';
import { silentRinger } from './silent-ringer';

/** A store that takes what it is given and says nothing until it is let go; then it has done all of it, in order. */
function holdable() {
	const memory = makeSink();
	const store = { isHeld: false, asked: [] as string[], letGo: () => {} };
	let line: Promise<unknown> = Promise.resolve();
	const held = (name: string, task: () => Promise<void>) => {
		store.asked.push(name);
		if (store.isHeld) {
			const before = line;
			line = new Promise<void>((resolve) => {
				const { letGo } = store;
				store.letGo = () => (letGo(), resolve());
			}).then(() => before);
		}
		const turn = line.then(task);
		line = turn.catch(() => undefined);
		return turn;
	};
	const sink: Sink = {
		append: (entries) => held('append', () => memory.sink.append(entries)),
		finish: (records) => held('finish', () => memory.sink.finish(records)),
		discard: () => held('discard', () => memory.sink.discard())
	};
	return Object.assign(store, { memory, sink });
}

async function begin() {
	const store = holdable();
	const giveBack = vi.fn();
	const live = new LiveSession({
		fetchOutside: () => Promise.resolve({ ringer: silentRinger, openSink: () => store.sink }),
		newId: () => 'id',
		tabs: { show: () => {}, giveBack }
	});
	await live.load();
	await live.straps.practise(1);
	live.begin(shortPlan, [athlete], defaultBellSettings);
	await vi.advanceTimersByTimeAsync(3000);
	return { live, store, giveBack };
}
/** Ends the session, its closing minute included, while the store says nothing. */
async function endInSilence() {
	const parts = await begin();
	await vi.advanceTimersByTimeAsync(20_000);
	parts.store.isHeld = true;
	parts.live.running!.finishAsleep();
	await vi.advanceTimersByTimeAsync(5500);
	return parts;
}

beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2026-03-02T18:00:00.000Z') }));
afterEach(() => void vi.useRealTimers());

describe('a store that does not answer while a session runs', () => {
	it('is said not to after five seconds, with what there is in hand', async () => {
		const { live, store } = await begin();
		store.isHeld = true;
		await vi.advanceTimersByTimeAsync(4000);
		expect(live.running!.view!.writeProblem).toBeUndefined();
		await vi.advanceTimersByTimeAsync(3000);
		const { writeProblem } = live.running!.view!;
		expect(writeProblem).toBeInstanceOf(StoreSilent);
		expect(storeReason(writeProblem)).toBe('This browser’s store does not answer.');
		expect(live.running!.recordsSoFar()).toHaveLength(1);
	});

	it('is waited for, and has everything once when it answers', async () => {
		const { live, store } = await begin();
		store.isHeld = true;
		const before = store.asked.length;
		await vi.advanceTimersByTimeAsync(60_000);
		expect(store.asked.length).toBe(before + 1);
		store.isHeld = false;
		store.letGo();
		await vi.advanceTimersByTimeAsync(3000);
		expect(live.running!.view!.writeProblem).toBeUndefined();
		const times = store.memory.entries.flatMap((entry) => (entry.kind === 'reading' ? entry.ms : []));
		expect(new Set(times).size).toBe(times.length);
		expect(times.length).toBeGreaterThan(60);
		expect(store.memory.entries.filter(({ kind }) => kind === 'start')).toHaveLength(1);
	});
});

describe('a store that does not answer at the end', () => {
	it('leaves the session not kept, in hand, and no other tab free to take it', async () => {
		const { live, giveBack } = await endInSilence();
		expect(live.stage).toBe('not kept');
		expect(live.running!.saveProblem).toBeInstanceOf(StoreSilent);
		expect(live.running!.records).toHaveLength(1);
		expect(giveBack).not.toHaveBeenCalled();
	});

	it('is not asked a second time beside the first, and the session is kept when it answers', async () => {
		const { live, store, giveBack } = await endInSilence();
		void live.running!.keepAgain();
		await vi.advanceTimersByTimeAsync(6000);
		expect(live.stage).toBe('not kept');
		store.letGo();
		await vi.advanceTimersByTimeAsync(0);
		expect(live.stage).toBe('kept');
		expect(live.running!.saveProblem).toBeUndefined();
		expect(store.asked.filter((name) => name === 'finish')).toHaveLength(1);
		expect(giveBack).toHaveBeenCalledOnce();
	});

	it('is asked anew once it has answered that it refuses', async () => {
		const { live, store } = await endInSilence();
		store.memory.failing = true;
		store.letGo();
		await vi.advanceTimersByTimeAsync(0);
		expect(live.stage).toBe('not kept');
		expect(live.running!.saveProblem).not.toBeInstanceOf(StoreSilent);
		Object.assign(store, { isHeld: false });
		store.memory.failing = false;
		await live.running!.keepAgain();
		expect(live.stage).toBe('kept');
	});

	it('keeps other tabs from a session that was left until it has answered', async () => {
		const { live, store, giveBack } = await endInSilence();
		live.reset();
		await vi.advanceTimersByTimeAsync(1000);
		expect(giveBack).not.toHaveBeenCalled();
		store.letGo();
		await vi.advanceTimersByTimeAsync(0);
		expect(giveBack).toHaveBeenCalledOnce();
	});
});

describe('a session that the store refused at the end', () => {
	async function refused() {
		const parts = await begin();
		parts.store.memory.failing = true;
		parts.live.running!.finishAsleep();
		await vi.advanceTimersByTimeAsync(100);
		expect(parts.live.stage).toBe('not kept');
		expect(parts.giveBack).not.toHaveBeenCalled();
		return parts;
	}

	it('is nobody else’s until it is kept', async () => {
		const { live, store, giveBack } = await refused();
		await live.running!.keepAgain();
		expect(giveBack).not.toHaveBeenCalled();
		store.memory.failing = false;
		await live.running!.keepAgain();
		expect(giveBack).toHaveBeenCalledOnce();
	});

	it('may be taken up by another tab once it is left here', async () => {
		const { live, giveBack } = await refused();
		live.reset();
		await vi.advanceTimersByTimeAsync(0);
		expect(giveBack).toHaveBeenCalledOnce();
	});
});
