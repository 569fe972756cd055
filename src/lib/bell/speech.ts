/**
 * Says something with a voice that lives on this machine, where there is one; the answer says whether. Voices
 * that would send the text elsewhere are never used.
 */
export function speak(text: string, volume: number): boolean {
	const synthesis = (globalThis as { speechSynthesis?: SpeechSynthesis }).speechSynthesis;
	const voice = synthesis
		?.getVoices()
		.find(({ localService, lang }) => localService && lang.toLowerCase().startsWith('en'));
	if (!synthesis || !voice) return false;
	const utterance = new SpeechSynthesisUtterance(text);
	utterance.voice = voice;
	utterance.volume = volume;
	synthesis.speak(utterance);
	return true;
}
