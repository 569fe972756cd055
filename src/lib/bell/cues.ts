import { heartWhistleS } from '$lib/rounds/rest-by-heart';
import { plannedRunMs, whenRemaining, type Phase } from '$lib/rounds/timeline';
import type { Sound } from './sound';

export interface Cue {
	/** Elapsed milliseconds, pauses included. */
	atMs: number;
	sound: Sound;
}

export interface CueOptions {
	/** The clapper, so many seconds before a round ends; 0 for none. */
	endWarningS: number;
	/** The whistle, so many seconds before a round starts; 0 for none. */
	startWarningS: number;
	on: Readonly<Record<Sound, boolean>>;
	/** The whistle within a round, each time so many seconds of it have run: raise the pace. */
	promptEveryS?: number;
}

/**
 * Everything that is to ring in a timeline, in order of time. Warnings are counted in time that runs: a
 * pause between a warning and its bell does not ring it twice, and nothing rings inside an open pause or
 * after it; what is due on the moment a pause begins still rings. A warning as long as its phase or longer is silent. A phase cut short keeps the warnings that
 * came before the cut. The last bell is the end of the last round; the closing minute and the cool-down end
 * without a sound, so that the final bell stays final.
 *
 * @example cuesOf(timelineOf(threeByThree), { endWarningS: 10, startWarningS: 10, on })
 * // count 12 s, 13 s, 14 s, round start 15 s, clapper 185 s, round end 195 s, whistle 245 s, ...
 */
export function cuesOf(timeline: readonly Phase[], options: CueOptions): Cue[] {
	const cues: Cue[] = [];
	const add = (sound: Sound, atMs: number | undefined) => {
		if (options.on[sound] && atMs !== undefined && atMs !== Infinity) cues.push({ atMs, sound });
	};
	const warn = (sound: Sound, phase: Phase, warningS: number) => {
		if (warningS > 0) add(sound, whenRemaining(phase, warningS * 1000));
	};
	for (const phase of timeline) {
		if (phase.kind === 'get ready') warn('whistle', phase, options.startWarningS);
		// A rest by heart has one length for the longest and for one that ends sooner: else it could be whistled for twice.
		if (phase.kind === 'rest')
			warn('whistle', phase, phase.downToPercent === undefined ? options.startWarningS : heartWhistleS);
		if (phase.kind === 'get ready') for (const leftS of [3, 2, 1]) warn('count', phase, leftS);
		if (phase.kind !== 'work') continue;
		add('round start', phase.startMs);
		warn('clapper', phase, options.endWarningS);
		for (const leftS of promptsLeftS(phase, options.promptEveryS))
			add('whistle', whenRemaining(phase, leftS * 1000));
		add('round end', phase.endMs);
	}
	return cues.sort((a, b) => a.atMs - b.atMs);
}

/** What is left of a round, in seconds, at each prompt in it. */
function promptsLeftS(phase: Phase, everyS: number | undefined): number[] {
	if (!everyS) return [];
	const prompts: number[] = [];
	for (let leftS = plannedRunMs(phase) / 1000 - everyS; leftS > 0; leftS -= everyS) prompts.push(leftS);
	return prompts;
}
