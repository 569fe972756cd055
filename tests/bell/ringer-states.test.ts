import type { Cue } from '$lib/bell/cues';
import { createRinger, type Ringer } from '$lib/bell/ringer';
import { describe, expect, it } from 'vitest';
import { fakeAudio } from './fake-audio';
import { bells, heardOf, readyRinger, settings, twelveRounds, wokenOnceAMinute } from './ready-ringer';

describe('what the screen is told', () => {
	it('goes from off over loading to ready, and back with close', async () => {
		const audio = fakeAudio();
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, audio.world);
		const states: string[] = [ringer.state];
		const stop = ringer.onChange(() => states.push(ringer.state));
		await ringer.wake();
		ringer.close();
		stop();
		await ringer.wake();
		expect(states).toEqual(['off', 'loading', 'ready', 'off']);
		expect(ringer.state).toBe('ready');
	});

	it('does nothing and harms nothing before it is woken', () => {
		const audio = fakeAudio();
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, audio.world);
		ringer.schedule(bells, 0);
		ringer.topUp();
		ringer.ring('pulse');
		ringer.configure(settings({ volume: 0 }));
		expect(ringer.state).toBe('off');
		expect(audio.contextsOpened).toBe(0);
	});

	it('a session planned before the sound was switched on rings from then on', async () => {
		const audio = fakeAudio();
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, audio.world);
		ringer.schedule(bells, 0);
		audio.clock.advanceTo(60_000);
		await ringer.wake();
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, 0)).toEqual([bells[1]]);
	});

	it('blocked while the browser holds the sound back; then nothing is rung late', async () => {
		const audio = fakeAudio({ state: 'suspended' });
		const { ringer, originMs } = await readyRinger(audio);
		ringer.schedule(bells, originMs);
		expect(ringer.state).toBe('blocked');
		audio.clock.advanceTo(60_000);
		audio.setState('running');
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([bells[1]]);
	});

	it('blocked by a telephone call in the middle; what passed meanwhile stays silent', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(5000);
		audio.setState('interrupted');
		expect(ringer.state).toBe('blocked');
		audio.clock.advanceTo(40_000);
		audio.setState('running');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([bells[1]]);
	});

	it('blocked when the audio clock stands still though it says it runs; ready when it goes on', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		ringer.topUp();
		audio.setRate(0);
		audio.clock.advanceTo(3000);
		ringer.topUp();
		expect(ringer.state).toBe('blocked');
		audio.clock.advanceTo(60_000);
		audio.setRate(1);
		audio.clock.advanceTo(62_000);
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([bells[1]]);
	});

	it('in a hidden tab, too, an output that stood still rings nothing late', async () => {
		const audio = fakeAudio();
		const { ringer, originMs } = await readyRinger(audio, {}, wokenOnceAMinute(audio.clock));
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(5000);
		ringer.topUp();
		audio.setRate(0);
		audio.clock.advanceTo(7000);
		ringer.topUp();
		audio.clock.advanceTo(61_000);
		audio.setRate(1);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([bells[1]]);
	});

	it('a standstill too short to be told of rings nothing late either', async () => {
		const audio = fakeAudio();
		const { ringer, originMs } = await readyRinger(audio, {}, wokenOnceAMinute(audio.clock));
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(originMs + 9500);
		audio.setRate(0);
		audio.clock.advanceTo(originMs + 10_400);
		audio.setRate(1);
		ringer.topUp();
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual([bells[1]]);
	});

	it('a machine that slept rings nothing late', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(twelveRounds, originMs);
		audio.clock.advanceTo(originMs + 100_000);
		audio.setRate(0);
		audio.clock.advanceTo(originMs + 700_000);
		audio.setRate(1);
		audio.clock.advanceTo(originMs + 3_600_000);
		const asleep = ({ atMs }: Cue) => atMs > 100_000 && atMs < 700_000;
		expect(heardOf(audio, originMs)).toEqual(twelveRounds.filter((cue) => !asleep(cue)));
	});
});

describe('when the output fails', () => {
	it('says so instead of throwing, and starts anew when woken', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		audio.failWith = 'The output is gone.';
		ringer.schedule(bells, originMs);
		expect(ringer.state).toBe('failed');
		ringer.topUp();
		expect(ringer.state).toBe('failed');
		audio.failWith = undefined;
		await ringer.wake();
		expect(ringer.state).toBe('ready');
		expect(audio.contextsOpened).toBe(2);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it.each([
		['closes', (audio: ReturnType<typeof fakeAudio>) => audio.setState('closed')],
		['reports an error', (audio: ReturnType<typeof fakeAudio>) => audio.emitError()]
	])('an output that %s has failed', async (_, happen) => {
		const { audio, ringer } = await readyRinger();
		happen(audio);
		expect(ringer.state).toBe('failed');
	});

	it('what was planned in an output that failed rings in the next one', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.emitError();
		await ringer.wake();
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('a browser without any audio has failed, quietly', async () => {
		const audio = fakeAudio();
		const world = {
			...audio.world,
			createContext: () => {
				throw new Error('No audio here.');
			}
		};
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, world);
		await ringer.wake();
		expect(ringer.state).toBe('failed');
	});

	it('sounds that cannot be made are made again at the next wake, and only then', async () => {
		const audio = fakeAudio();
		let attempts = 0;
		const world = {
			...audio.world,
			renderSounds: (sampleRate: number) =>
				++attempts === 1 ? Promise.reject(new Error('Not today.')) : audio.world.renderSounds(sampleRate)
		};
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, world);
		await ringer.wake();
		expect(ringer.state).toBe('failed');
		await Promise.all([ringer.wake(), ringer.wake()]);
		expect(ringer.state).toBe('ready');
		await ringer.wake();
		expect(attempts).toBe(2);
	});

	describe('made ahead', () => {
		const made = (audio = fakeAudio(), fails = 0) => {
			const rates: number[] = [];
			const { renderSounds } = audio.world;
			audio.world.renderSounds = (sampleRate) =>
				rates.push(sampleRate) <= fails ? Promise.reject(new Error('Not today.')) : renderSounds(sampleRate);
			return {
				audio,
				rates,
				ringer: createRinger({ clock: audio.clock, settings: settings() }, audio.world)
			};
		};

		it('are made once, and no output is opened for them', async () => {
			const { audio, rates, ringer } = made();
			ringer.prepare();
			ringer.prepare();
			expect([ringer.state, audio.contextsOpened]).toEqual(['off', 0]);
			await ringer.wake();
			ringer.prepare();
			expect(ringer.state).toBe('ready');
			expect(rates).toEqual([48_000]);
		});

		it('are made anew where another loudspeaker is there by the time it is opened', async () => {
			const { audio, rates, ringer } = made(fakeAudio({ sampleRate: 44_100 }));
			audio.world.outputRate = () => 48_000;
			ringer.prepare();
			await ringer.wake();
			expect(ringer.state).toBe('ready');
			expect(rates).toEqual([48_000, 44_100]);
		});

		it('are made by wake where that failed', async () => {
			const { rates, ringer } = made(fakeAudio(), 1);
			ringer.prepare();
			await new Promise((resolve) => setTimeout(resolve));
			expect(ringer.state).toBe('off');
			await ringer.wake();
			expect(ringer.state).toBe('ready');
			expect(rates).toHaveLength(2);
		});

		it('are made by wake where no output could be asked for its rate', async () => {
			const { audio, rates, ringer } = made();
			audio.world.outputRate = () => {
				throw new Error('There is no loudspeaker.');
			};
			ringer.prepare();
			await ringer.wake();
			expect(ringer.state).toBe('ready');
			expect(rates).toHaveLength(1);
		});
	});

	it.each([
		['made', () => fakeAudio().world.renderSounds(48_000)],
		['made in vain', () => Promise.reject(new Error('Not today.'))]
	])('closed while the sounds are being %s, it stays off', async (_, renderSounds) => {
		const audio = fakeAudio();
		const world = { ...audio.world, renderSounds };
		const ringer = createRinger({ clock: audio.clock, settings: settings() }, world);
		const waking = ringer.wake();
		ringer.close();
		await waking;
		expect(ringer.state).toBe('off');
	});
});

describe('an output that vanishes and comes back', () => {
	it('rings again by itself, each bell once, where the output failed and none could be opened for a while', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(twelveRounds, originMs);
		audio.clock.advanceTo(originMs + 100_000);
		audio.cannotOpen = 'There is no loudspeaker.';
		audio.emitError();
		expect(ringer.state).toBe('failed');
		await passing(audio, originMs + 300_000, ringer);
		expect(ringer.state).toBe('failed');
		audio.cannotOpen = undefined;
		await passing(audio, originMs + 310_000, ringer);
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(originMs + 3_600_000);
		// Nothing is due in the five seconds that opening anew may take.
		const gone = ({ atMs }: Cue) => atMs > 100_000 && atMs < 305_000;
		expect(heardOf(audio, originMs)).toEqual(twelveRounds.filter((cue) => !gone(cue)));
	});

	it('is opened at once when the browser says that a loudspeaker came', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.cannotOpen = 'There is no loudspeaker.';
		audio.emitError();
		audio.cannotOpen = undefined;
		audio.changeDevices();
		await Promise.resolve();
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('is opened anew where the clock of the old one stands still', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.setRate(0);
		for (const atMs of [2000, 4000]) {
			audio.clock.advanceTo(atMs);
			ringer.topUp();
		}
		expect(ringer.state).toBe('blocked');
		audio.setRate(1);
		audio.changeDevices();
		await Promise.resolve();
		expect(audio.contextsOpened).toBe(2);
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('is asked to go on, once at a time, where the browser waits for that', async () => {
		const { audio, ringer, originMs } = await readyRinger();
		ringer.schedule(bells, originMs);
		audio.clock.advanceTo(20_000);
		let asked = 0;
		let letGoOn = () => {};
		audio.onResume = () => {
			asked++;
			return new Promise((resolve) => (letGoOn = resolve));
		};
		audio.setState('interrupted');
		audio.clock.advanceTo(60_000);
		expect(ringer.state).toBe('blocked');
		expect(asked).toBe(1);
		letGoOn();
		audio.setState('running');
		expect(ringer.state).toBe('ready');
		audio.clock.advanceTo(400_000);
		expect(heardOf(audio, originMs)).toEqual(bells);
	});

	it('is not opened again where there is nothing to ring', async () => {
		const { audio, ringer } = await readyRinger();
		audio.emitError();
		audio.clock.advanceTo(600_000);
		expect(ringer.state).toBe('failed');
		expect(audio.contextsOpened).toBe(1);
	});
});

/** Time in steps, with a packet in each and room for what waits for promises. */
async function passing(audio: ReturnType<typeof fakeAudio>, untilMs: number, { topUp }: Ringer) {
	while (audio.clock.nowMs() < untilMs) {
		audio.clock.advanceTo(Math.min(untilMs, audio.clock.nowMs() + 1000));
		topUp();
		await Promise.resolve();
		await Promise.resolve();
	}
}

it('keeps the speaker awake with one loop, for as long as it is asked to', async () => {
	const { audio, ringer } = await readyRinger(fakeAudio(), { keepAwake: true });
	ringer.configure(settings({ keepAwake: true, volume: 0.2 }));
	expect(audio.loopsRunning()).toBe(1);
	ringer.configure(settings({ keepAwake: false }));
	expect(audio.loopsRunning()).toBe(0);
});

it('gives the output something other than zeros from its opening on: silent, its clock would lose time', async () => {
	const { audio } = await readyRinger();
	expect(audio.isNeverAllZeros).toBe(true);
});
