import { describe, expect, it } from 'vitest';
import { watchedStore } from '../store/faulty-store';
import { allKeys, freshStore, valueOf } from '../store/fresh-store';
import { makeSink, makeStart, makeStrap, shortPlan } from './builders';
import type { Sink } from '$lib/record/journal';
import { Recorder } from '$lib/session/recorder';
import { openJournal } from '$lib/store/journal';
import { manualClock } from '$lib/time/manual-clock';

const settled = () => new Promise<void>((resolve) => setImmediate(resolve));

function setUp(sink: Sink) {
	const clock = manualClock();
	const red = makeStrap();
	const start = makeStart({ plan: { ...shortPlan, roundS: 7200 } });
	const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink });
	recorder.straps.attach(0, red.strap);
	return { clock, red, recorder };
}

describe('the pace of the journal', () => {
	it('leaves the disk half of the second in which a packet must be there, however the packets come', async () => {
		const memory = makeSink();
		const waitsMs: number[] = [];
		let nowMs = () => 0;
		const { clock, red } = setUp({
			...memory.sink,
			async append(entries) {
				for (const entry of entries) if (entry.kind === 'reading') waitsMs.push(nowMs() - entry.ms);
			}
		});
		nowMs = () => clock.nowMs();
		// The worst is a packet that comes right after a write: 137 ms apart, every phase to the writes is met.
		for (let ms = 1; ms < 60_000; ms += 137) {
			clock.advanceTo(ms);
			red.send(ms, 140);
			await settled();
		}
		expect(waitsMs.length).toBeGreaterThan(400);
		expect(Math.max(...waitsMs)).toBeLessThanOrEqual(500);
	});

	it('asks the store for two things a packet, of as many bytes, in the first minute and after an hour', async () => {
		const { store, requests } = watchedStore(freshStore());
		const journal = openJournal(store, 'session-1');
		let written = Promise.resolve();
		const { clock, red } = setUp({
			...journal,
			append: (entries) => (written = journal.append(entries))
		});
		await written;
		const packets = 3660;
		for (let s = 0; s < packets; s++) {
			clock.advanceTo(s * 1000 + 900);
			red.send(clock.nowMs(), 140 + (s % 9), { rrMs: [427.734375, 430.6640625] });
			await written;
		}
		// Each write looks where the journal ends, since its data may have been cleared, and adds one chunk there.
		const methods = requests.map(({ method }) => method);
		expect(methods).toEqual(Array.from({ length: packets + 1 }, () => ['openKeyCursor', 'add']).flat());

		const keys = await allKeys(store);
		expect(keys).toHaveLength(packets + 1);
		const bytesOf = async (key: string) => JSON.stringify(await valueOf(store, key)).length;
		const first = await Promise.all(keys.slice(1, 61).map(bytesOf));
		const last = await Promise.all(keys.slice(-60).map(bytesOf));
		// A time after an hour has up to four figures more than one in the first minute.
		expect(Math.max(...last)).toBeLessThanOrEqual(Math.max(...first) + 4);
	}, 60_000);
});
