import { describe, expect, it } from 'vitest';
import { onVoicesChange, promptWords, speak, voiceHere, type SpeechWorld } from '$lib/bell/speech';

const voice = (lang: string, localService: boolean) =>
	({ name: `${lang} ${localService ? 'here' : 'elsewhere'}`, lang, localService }) as SpeechSynthesisVoice;

/** A browser with these voices; what it was made to say lies in `said`. */
function makeWorld(voices: SpeechSynthesisVoice[]) {
	const said: SpeechSynthesisUtterance[] = [];
	const events = new EventTarget();
	class Utterance {
		voice: SpeechSynthesisVoice | null = null;
		lang = '';
		volume = 1;
		constructor(readonly text: string) {}
	}
	const world = {
		speechSynthesis: {
			getVoices: () => voices,
			speak: (utterance: SpeechSynthesisUtterance) => void said.push(utterance),
			addEventListener: events.addEventListener.bind(events),
			removeEventListener: events.removeEventListener.bind(events)
		},
		SpeechSynthesisUtterance: Utterance as unknown as typeof SpeechSynthesisUtterance
	} satisfies SpeechWorld;
	return { world, said, events, voices };
}

describe('a spoken prompt', () => {
	it('is said by an English voice of this machine, whatever voices elsewhere come before it', () => {
		const here = voice('en-GB', true);
		const { world, said } = makeWorld([voice('en-US', false), voice('de-DE', true), here]);
		expect(speak('Raise the pace.', 0.4, world)).toBe(true);
		expect(said).toHaveLength(1);
		expect(said[0]).toMatchObject({ text: 'Raise the pace.', voice: here, lang: 'en-GB', volume: 0.4 });
	});

	it('is never given to a voice that sends the words elsewhere, and the reason is told', () => {
		const { world, said } = makeWorld([voice('en-US', false)]);
		expect(speak('Raise the pace.', 1, world)).toBe(false);
		expect(said).toEqual([]);
		expect(voiceHere(world).reason).toMatch(/send the words elsewhere/);
	});

	it('is left to the whistle where no voice fits, each case with its reason', () => {
		expect(voiceHere(makeWorld([]).world).reason).toMatch(/no voice on this machine/);
		expect(voiceHere(makeWorld([voice('fr-FR', true)]).world).reason).toMatch(/English/);
		expect(voiceHere({}).reason).toMatch(/does not speak/);
		expect(speak('Raise the pace.', 1, {})).toBe(false);
		// "enm" is Middle English in ISO 639-3 and no English a boxer knows.
		expect(voiceHere(makeWorld([voice('enm', true)]).world).voice).toBeUndefined();
	});

	it('finds a voice that the browser comes up with later', () => {
		const { world, events, voices } = makeWorld([]);
		let heard = 0;
		const off = onVoicesChange(() => heard++, world);
		voices.push(voice('en-IE', true));
		events.dispatchEvent(new Event('voiceschanged'));
		expect(heard).toBe(1);
		expect(voiceHere(world).voice?.lang).toBe('en-IE');
		off();
		events.dispatchEvent(new Event('voiceschanged'));
		expect(heard).toBe(1);
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
