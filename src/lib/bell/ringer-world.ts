import type { Sound } from './sound';

/** What a ringer takes from the browser. */
export interface RingerWorld {
	createContext(): AudioContext;
	/** Of the output that would be opened now, in Hz. */
	outputRate(): number;
	renderSounds(sampleRate: number): Promise<Record<Sound, AudioBuffer>>;
	/** Told when a loudspeaker comes or goes, where the browser says so. The answer ends it. */
	onDevicesChange(listener: () => void): () => void;
}

export const browserWorld: RingerWorld = {
	createContext: () => new AudioContext(),
	outputRate() {
		const probe = new AudioContext();
		void probe.close();
		return probe.sampleRate;
	},
	renderSounds: async (sampleRate) => (await import('./sounds')).renderSounds(sampleRate),
	onDevicesChange(listener) {
		// Absent on an insecure address, whatever the types say.
		const devices = navigator.mediaDevices as MediaDevices | undefined;
		devices?.addEventListener('devicechange', listener);
		return () => devices?.removeEventListener('devicechange', listener);
	}
};
