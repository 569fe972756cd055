import { describe, expect, it } from 'vitest';
import { promptWords, speak, watchSpeech, type SpeechWorld } from '$lib/bell/speech';

const voice = (name: string, lang: string, localService: boolean) =>
	({ name, lang, localService }) as SpeechSynthesisVoice;

/** A browser's speech with these voices, that writes down what it is told to say. */
function fakeSpeech(...voices: SpeechSynthesisVoice[]) {
	const said: { text: string; voice: string; volume: number }[] = [];
	const events = new EventTarget();
	const world: SpeechWorld = {
		synthesis: {
			getVoices: () => voices,
			speak: ({ text, voice, volume }) => said.push({ text, voice: voice?.name ?? '', volume }),
			cancel: () => said.splice(0),
			addEventListener: (kind: string, listener: unknown) =>
				events.addEventListener(kind, listener as EventListener),
			removeEventListener: (kind: string, listener: unknown) =>
				events.removeEventListener(kind, listener as EventListener)
		},
		utter: (text) => ({ text }) as SpeechSynthesisUtterance
	};
	return {
		world,
		said,
		arrive(late: SpeechSynthesisVoice) {
			voices.push(late);
			events.dispatchEvent(new Event('voiceschanged'));
		}
	};
}

const local = voice('Local', 'en-GB', true);
const distant = voice('Distant', 'en-US', false);

describe('speak', () => {
	it('uses a voice of the machine, at the volume given', () => {
		const { world, said } = fakeSpeech(distant, local);
		expect(speak('Down 38.', 0.6, world)).toBe(true);
		expect(said).toEqual([{ text: 'Down 38.', voice: 'Local', volume: 0.6 }]);
	});

	it.each([
		['none at all', []],
		['only those that send the words away', [distant]],
		['only those of another language', [voice('Lokal', 'de-DE', true)]]
	])('says nothing with %s', (_, voices) => {
		const { world, said } = fakeSpeech(...voices);
		expect(speak('Down 38.', 1, world)).toBe(false);
		expect(said).toEqual([]);
	});

	it('cuts off what it was saying', () => {
		const { world, said } = fakeSpeech(local);
		speak('Down 38.', 1, world);
		speak('Raise the pace.', 1, world);
		expect(said.map(({ text }) => text)).toEqual(['Raise the pace.']);
	});

	it('is silent where the browser cannot speak', () => {
		expect(speak('Down 38.', 1)).toBe(false);
	});
});

describe('watchSpeech', () => {
	it('says why not, and that it can once a voice has arrived', () => {
		const { world, arrive } = fakeSpeech();
		const told: (string | undefined)[] = [];
		const end = watchSpeech((whyNot) => told.push(whyNot), world);
		arrive(distant);
		arrive(local);
		end();
		arrive(local);
		expect(told).toEqual([
			'This machine has no voice installed.',
			expect.stringContaining('would send the words to a server'),
			undefined
		]);
	});

	it('tells voices of another language from voices that live elsewhere', () => {
		const told: (string | undefined)[] = [];
		watchSpeech((whyNot) => told.push(whyNot), fakeSpeech(distant, voice('Lokal', 'de-DE', true)).world);
		watchSpeech((whyNot) => told.push(whyNot), fakeSpeech(voice('Old', 'enm', true)).world);
		expect(told).toEqual(Array(2).fill('This machine has no English voice of its own.'));
	});

	it('says that a browser cannot speak', () => {
		const told: (string | undefined)[] = [];
		watchSpeech((whyNot) => told.push(whyNot));
		expect(told).toEqual(['This browser cannot speak.']);
	});
});

describe('what is said', () => {
	it('comes once a call, and not for calls made before the page looked', () => {
		expect(promptWords(undefined, 2, false)).toBeUndefined();
		expect(promptWords(0, 0, false)).toBeUndefined();
		expect(promptWords(0, 1, false)).toBe('Raise the pace.');
		expect(promptWords(2, 3, true)).toMatch(/last time/);
		expect(promptWords(3, 0, false)).toBeUndefined();
	});
});
