/** The part of the browser that speaks; absent in browsers without speech. */
export interface SpeechWorld {
	speechSynthesis?: Pick<SpeechSynthesis, 'getVoices' | 'speak' | 'addEventListener' | 'removeEventListener'>;
	SpeechSynthesisUtterance?: typeof SpeechSynthesisUtterance;
}

/** A voice of this machine, or why there is none, in a sentence for the page. */
export type VoiceHere =
	{ voice: SpeechSynthesisVoice; reason?: undefined } | { voice?: undefined; reason: string };

/**
 * The voice that prompts are spoken with: an English one that works on this machine itself. A voice that would
 * send the text elsewhere is never used.
 */
export function voiceHere(world: SpeechWorld = globalThis): VoiceHere {
	const { speechSynthesis: synthesis } = world;
	if (!synthesis || !world.SpeechSynthesisUtterance) return { reason: 'This browser does not speak.' };
	const voices = synthesis.getVoices();
	const local = voices.filter(({ localService }) => localService);
	const voice = local.find(({ lang }) => /^en\b/i.test(lang));
	if (voice) return { voice };
	if (local.length > 0) return { reason: 'None of the voices on this machine is an English one.' };
	return {
		reason:
			voices.length > 0
				? 'All voices of this browser send the words elsewhere to be spoken, so none is used.'
				: 'There is no voice on this machine.'
	};
}

/** Calls when the voices have changed: browsers often find theirs some time after the page has opened. */
export function onVoicesChange(listener: () => void, world: SpeechWorld = globalThis): () => void {
	world.speechSynthesis?.addEventListener('voiceschanged', listener);
	return () => world.speechSynthesis?.removeEventListener('voiceschanged', listener);
}

/**
 * Says something with a voice of this machine, where there is one; the answer says whether.
 *
 * @param volume 0 to 1
 */
export function speak(text: string, volume: number, world: SpeechWorld = globalThis): boolean {
	const { voice } = voiceHere(world);
	if (!voice || !world.SpeechSynthesisUtterance) return false;
	const utterance = new world.SpeechSynthesisUtterance(text);
	utterance.voice = voice;
	utterance.lang = voice.lang;
	utterance.volume = volume;
	world.speechSynthesis?.speak(utterance);
	return true;
}

/**
 * What to say when more pace is called for. Nothing at the first look, so that a page that is opened in mid-run
 * does not repeat a call that was long made.
 *
 * @param before how often more pace had been called for at the look before; undefined at the first
 * @param now how often by now
 * @param isLast no call follows
 */
export function promptWords(before: number | undefined, now: number, isLast: boolean): string | undefined {
	if (before === undefined || now <= before) return undefined;
	return isLast ? 'Raise the pace, for the last time. Finish with something left.' : 'Raise the pace.';
}
