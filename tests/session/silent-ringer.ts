import type { Ringer } from '$lib/bell/ringer';

export const silentRinger: Ringer = {
	state: 'ready',
	prepare: () => {},
	wake: () => Promise.resolve(),
	schedule: () => {},
	topUp: () => {},
	ring: () => {},
	configure: () => {},
	onChange: () => () => {},
	close: () => {}
};
