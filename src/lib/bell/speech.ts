/** What speech takes from the browser; absent where it cannot speak. */
export interface SpeechWorld {
	synthesis: Pick<
		SpeechSynthesis,
		'getVoices' | 'speak' | 'cancel' | 'addEventListener' | 'removeEventListener'
	>;
	utter(text: string): SpeechSynthesisUtterance;
}

function browserSpeech(): SpeechWorld | undefined {
	const { speechSynthesis } = globalThis as { speechSynthesis?: SpeechSynthesis };
	if (!speechSynthesis) return undefined;
	return { synthesis: speechSynthesis, utter: (text) => new SpeechSynthesisUtterance(text) };
}

/** Others would send the text away, and the page speaks English. */
const voiceOf = (world: SpeechWorld | undefined) =>
	world?.synthesis
		.getVoices()
		// "enm" is Middle English (ISO 639-3).
		.find(({ localService, lang }) => localService && /^en\b/i.test(lang));

/**
 * Says something with a voice that lives on this machine, where there is one; the answer says whether. Voices
 * that would send the text elsewhere are never used. What is still being said is cut off: late words are wrong.
 *
 * @param volume 0 to 1
 */
export function speak(text: string, volume: number, world = browserSpeech()): boolean {
	const voice = voiceOf(world);
	if (!world || !voice) return false;
	const utterance = world.utter(text);
	utterance.voice = voice;
	utterance.lang = voice.lang;
	utterance.volume = volume;
	world.synthesis.cancel();
	world.synthesis.speak(utterance);
	return true;
}

/**
 * Why nothing can be spoken here; undefined where it can. `changed` is called when that may have changed, since
 * browsers name their voices some time after the page has opened. The answer ends the listening.
 */
export function watchSpeech(
	changed: (whyNot: string | undefined) => void,
	world = browserSpeech()
): () => void {
	const tell = () => changed(whyNot(world));
	tell();
	world?.synthesis.addEventListener('voiceschanged', tell);
	return () => world?.synthesis.removeEventListener('voiceschanged', tell);
}

function whyNot(world: SpeechWorld | undefined): string | undefined {
	if (!world) return 'This browser cannot speak.';
	if (voiceOf(world)) return undefined;
	const voices = world.synthesis.getVoices();
	if (voices.length === 0) return 'This machine has no voice installed.';
	return voices.some(({ localService }) => localService)
		? 'This machine has no English voice of its own.'
		: 'All voices of this browser would send the words to a server, so they are not used.';
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
