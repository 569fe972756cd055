import { pairStrap } from '$lib/gatt/pair-strap';
import type { Clock } from '$lib/time/clock';
import { FakeRadio } from './fake-bluetooth';
import { listenTo, pass, settled, watchedClock } from './strap-bench';

/** 150 beats a minute, with contact. */
export const packet = [0x06, 150];

/** A Web Bluetooth strap, not yet connected, and the radio it will find. */
export async function paired(clockOf = (clock: Clock) => clock) {
	const clock = watchedClock();
	const radio = new FakeRadio(clock);
	const strap = await pairStrap({ clock: clockOf(clock), bluetooth: radio.bluetooth });
	return { clock, radio, strap, heard: listenTo(strap) };
}

export async function connected(clockOf?: (clock: Clock) => Clock) {
	const bench = await paired(clockOf);
	await bench.strap.connect();
	await settled();
	return bench;
}

export type Bench = Awaited<ReturnType<typeof paired>>;

/** A packet every second for `seconds`. */
export async function send({ clock, radio }: Bench, seconds: number): Promise<void> {
	for (let second = 0; second < seconds; second++) {
		await pass(clock, 1000, 250);
		radio.notify(packet);
	}
}
