// Both are fetched when a strap is wanted: here in no time of the clock.
import '$lib/gatt/pair-strap';
import '$lib/session/seat';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import type { AthleteSnapshot } from '$lib/record/head';
import type { JournalEntry } from '$lib/record/journal';
import { LiveSession } from '$lib/session/live-session.svelte';
import { realClock } from '$lib/time/clock';
import { FakeRadio } from '../gatt/fake-bluetooth';
import { makeSink, makeStart, shortPlan } from './builders';
import { silentRinger } from './silent-ringer';

const odalys = { athleteId: 'odalys', name: 'Odalys' };
const tomas = { athleteId: 'tomas', name: 'Tomas' };
/** Longer than a connect that nobody answers is waited for, shorter than a silent strap is. */
const triedMs = 10_000;

/** A page that was reloaded in mid-session, and the straps that its browser knows. */
describe('a session that is gone on with after a reload', () => {
	/** What the browser permits without a chooser; undefined where it does not say, which is the rule. */
	let permitted: FakeRadio[] | undefined;
	/** What somebody picks in the next chooser. */
	let picked: FakeRadio;
	const bluetooth = {
		getAvailability: async () => true,
		requestDevice: (options: RequestDeviceOptions) => picked.bluetooth.requestDevice(options),
		get getDevices() {
			const devices = permitted?.map(({ device }) => device);
			return devices && (async () => devices);
		}
	};
	const radio = (name: string) => Object.assign(new FakeRadio(realClock()), { name });

	beforeEach(() => {
		permitted = undefined;
		vi.useFakeTimers();
		vi.stubGlobal('navigator', { bluetooth });
	});
	afterEach(() => {
		vi.unstubAllGlobals();
		vi.useRealTimers();
	});

	async function goOn(
		worn: readonly { athlete: AthleteSnapshot; strapName?: string; practice?: boolean }[],
		more: readonly JournalEntry[] = []
	) {
		const corners = worn.map((entrant, i) => ({ recordId: `record-${i}`, practice: false, ...entrant }));
		const start = makeStart({ plan: shortPlan, corners, startedAt: new Date().toISOString() });
		const sink = makeSink();
		const live = new LiveSession({
			fetchOutside: () => Promise.resolve({ ringer: silentRinger, openSink: () => sink.sink })
		});
		await live.load();
		live.goOn(start, [{ kind: 'start', start }, ...more], defaultBellSettings);
		const strapsOn = () => live.running!.view!.corners.map(({ hasStrap }) => hasStrap);
		return { live, sink, strapsOn, corners: live.running!.corners };
	}
	const states = (live: LiveSession) => live.roster.corners.map(({ strap }) => strap.seat?.strap.state.kind);

	it('has its strap back without a press where the browser permits it, and its beats go on', async () => {
		const red = radio('Red');
		permitted = [radio('Somebody’s watch'), red];
		const { live, sink, strapsOn } = await goOn([{ athlete: odalys, strapName: 'Red' }]);
		expect(strapsOn()).toEqual([false]);
		await vi.advanceTimersByTimeAsync(1000);

		expect(strapsOn()).toEqual([true]);
		expect(states(live)).toEqual(['connected']);
		red.notify([0x06, 150]);
		expect(live.running!.view!.corners[0]!.signal).toEqual({ bpm: 150 });
		await vi.advanceTimersByTimeAsync(2000);
		expect(
			sink.entries.filter(({ kind }) => kind === 'strap'),
			'it is the strap of before'
		).toEqual([]);
		expect(sink.entries.filter(({ kind }) => kind === 'reading')).toHaveLength(1);
		await live.discard();
	});

	it('asks for it as ever where the browser does not say what it permits', async () => {
		const { live, corners, strapsOn } = await goOn([{ athlete: odalys, strapName: 'Red' }]);
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(strapsOn()).toEqual([false]);
		expect(live.running!.view!.corners[0]!.signal).toMatchObject({ words: 'no strap' });

		picked = radio('Red');
		await corners.pairAgain(0);
		expect(strapsOn()).toEqual([true]);
		await live.discard();
	});

	it('gives each of several boxers their own, and goes by the strap that they wore last', async () => {
		const [red, blue, green] = [radio('Red'), radio('Blue'), radio('Green')];
		permitted = [green, blue, red];
		const { live, strapsOn } = await goOn(
			[
				{ athlete: odalys, strapName: 'Red' },
				{ athlete: tomas, strapName: 'Blue' }
			],
			[{ kind: 'strap', corner: 0, change: { ms: 100, strapName: 'Green', practice: false } }]
		);
		await vi.advanceTimersByTimeAsync(1000);

		expect(strapsOn()).toEqual([true, true]);
		green.notify([0x06, 141]);
		blue.notify([0x06, 152]);
		expect(live.running!.view!.corners.map(({ signal }) => signal.bpm)).toEqual([141, 152]);
		expect(red.triesMs).toEqual([]);
		await live.discard();
	});

	it('gives a strap that was handed over to whoever has it on', async () => {
		const red = radio('Red');
		permitted = [red];
		const { live } = await goOn(
			[{ athlete: odalys, strapName: 'Red' }, { athlete: tomas }],
			[{ kind: 'hand over', corner: 1, from: 0, ms: 100, strapName: 'Red', practice: false }]
		);
		await vi.advanceTimersByTimeAsync(1000);
		red.notify([0x06, 148]);
		expect(live.running!.view!.corners).toMatchObject([{ name: 'Tomas', signal: { bpm: 148 } }]);
		await live.discard();
	});

	it('guesses nothing: neither which of two devices of one name it was, nor who of two wore it', async () => {
		permitted = [radio('Gym strap'), radio('Gym strap'), radio('Red')];
		const { live, strapsOn } = await goOn([
			{ athlete: odalys, strapName: 'Gym strap' },
			{ athlete: tomas, strapName: 'Red' }
		]);
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(strapsOn()).toEqual([false, true]);
		await live.discard();

		permitted = [radio('Gym strap')];
		const shared = await goOn([
			{ athlete: odalys, strapName: 'Gym strap' },
			{ athlete: tomas, strapName: 'Gym strap' }
		]);
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(shared.strapsOn()).toEqual([false, false]);
		expect(permitted[0]!.triesMs).toEqual([]);
		await shared.live.discard();
	});

	it('leaves a simulated heart to its own press, though a strap of that name is permitted', async () => {
		const red = radio('Red');
		permitted = [red];
		const { live } = await goOn([
			{ athlete: odalys, strapName: 'Red', practice: true },
			{ athlete: tomas, strapName: 'Blue' }
		]);
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(red.triesMs).toEqual([]);
		await live.discard();
	});

	it('asks for a strap that does not answer, says no word of it, and lets it be paired again', async () => {
		const red = radio('Red');
		red.connecting = 'hang';
		permitted = [red];
		const { live, corners, strapsOn } = await goOn([{ athlete: odalys, strapName: 'Red' }]);
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(red.triesMs).toHaveLength(1);
		expect(strapsOn()).toEqual([false]);
		expect(corners.problem).toBeUndefined();

		red.connecting = 'accept';
		picked = red;
		await corners.pairAgain(0);
		expect(corners.problem).toBeUndefined();
		expect(strapsOn()).toEqual([true]);
		await live.discard();
	});

	it('obeys a press that comes before the strap, be it for that one or for another', async () => {
		for (const name of ['Red', 'Blue']) {
			const red = radio('Red');
			red.connecting = 'hang';
			permitted = [red];
			const { live, corners, strapsOn } = await goOn([{ athlete: odalys, strapName: 'Red' }]);
			await vi.advanceTimersByTimeAsync(1000);
			expect(red.triesMs, 'it is on its way').toHaveLength(1);

			red.connecting = 'accept';
			picked = name === 'Red' ? red : radio(name);
			await corners.pairAgain(0);
			expect(corners.problem).toBeUndefined();
			red.letThrough();
			await vi.advanceTimersByTimeAsync(triedMs);
			expect(strapsOn()).toEqual([true]);
			expect(live.roster.first.strap.seat!.strap).toMatchObject({ name, state: { kind: 'connected' } });
			if (name === 'Blue') expect(red.isUp, 'the other one is free').toBe(false);
			await live.discard();
		}
	});

	it('gives it to whoever stands in that place by then, and to nobody who has left', async () => {
		const [red, blue] = [radio('Red'), radio('Blue')];
		red.connecting = 'hang';
		blue.connecting = 'hang';
		permitted = [red, blue];
		const { live, corners, strapsOn } = await goOn([
			{ athlete: odalys, strapName: 'Red' },
			{ athlete: tomas, strapName: 'Blue' }
		]);
		await vi.advanceTimersByTimeAsync(1000);
		corners.swap(0, 1);
		red.letThrough();
		await vi.advanceTimersByTimeAsync(1000);
		expect(strapsOn()).toEqual([false, true]);
		corners.leave(0);
		blue.letThrough();
		await vi.advanceTimersByTimeAsync(triedMs);
		expect(strapsOn()).toEqual([true]);
		expect(blue.isUp).toBe(false);
		await live.discard();
	});

	it('keeps no strap from others for one who left before the browser answered', async () => {
		const blue = radio('Blue');
		permitted = [blue];
		const { live, corners, strapsOn } = await goOn([
			{ athlete: odalys, strapName: 'Red' },
			{ athlete: tomas, strapName: 'Blue' }
		]);
		corners.leave(1);
		await vi.advanceTimersByTimeAsync(1000);
		expect(blue.triesMs).toEqual([]);
		picked = blue;
		await corners.pairAgain(0);
		expect(corners.problem).toBeUndefined();
		expect(strapsOn()).toEqual([true]);
		await live.discard();
	});
});
