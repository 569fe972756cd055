import type { MethodEntry } from '../method-entry';
import { cleanIntervals, type Interval } from '../rr-intervals';
import { alpha1, scalingWindowMs } from '../short-term-scaling';
import { thresholdsFromScaling } from '../threshold-from-scaling';
import { known, repeatableNoise } from './examples';
import { abstract, fromMemory } from './sources';

const noiseLength = 20_000;

/** Beats of a ramp from 110 to 184 bpm in 24 minutes; each leans on the one before it less the faster they come. */
function rampBeats(): Interval[] {
	const noise = repeatableNoise(7);
	const lengthMs = 24 * 60_000;
	const beats: Interval[] = [];
	let offset = 0;
	for (let ms = 0; ms < lengthMs;) {
		const bpm = 110 + (74 * ms) / lengthMs;
		const lean = Math.min(0.75, 0.75 - 0.018 * (bpm - 120));
		offset = lean * offset + Math.sqrt(1 - lean ** 2) * noise();
		const rrMs = 60_000 / bpm + 6 * offset;
		ms += rrMs;
		beats.push({ ms, rrMs });
	}
	return beats;
}

/** What the order of the beats tells of an effort. */
export const scalingMethods: readonly MethodEntry[] = [
	{
		id: 'alpha-1',
		title: 'Alpha-1',
		theme: 'threshold',
		measures: ['alpha1', 'detrended', 'scalingWindows'],
		plain:
			'How much each beat depends on the ones before it. At rest and in easy work it does (about 1 to 1.5). As the effort rises it does so less and less, until the beats are nearly random (about 0.5).',
		formula: `alpha-1 = slope of log F(n) over log n, boxes of n = 4 to 16 beats\nF(n) = root mean square of all that is left of the summed RR intervals when each box is freed of its straight line\nmoving windows of ${scalingWindowMs / 60_000} minutes, one every 5 s, freed of their trend by smoothness priors (lambda 500)`,
		example: () => {
			const noise = repeatableNoise(1);
			const white = Float64Array.from({ length: noiseLength }, noise);
			let sum = 0;
			const brownian = white.map((each) => (sum += each));
			return {
				given: `${noiseLength} random numbers, and their running sum (Brownian noise).`,
				steps: 'In boxes this short 0.58 and 1.50 are expected, where long ones would give 0.5 and 1.5.',
				result: `${known(alpha1(white)).toFixed(2)} and ${known(alpha1(brownian)).toFixed(2)}`
			};
		},
		validRange:
			'64 neighbouring RR intervals or more, without gaps. Bad beats are put right first; with more than 5 % put right a window has no value.',
		error:
			'Boxes this short read random beats as 0.58 instead of 0.5. With 300 beats the value scatters by 0.05 (SD, simulated). Little bias was found under 3 % of corrected beats.',
		sources: [
			'Own rule',
			abstract('Peng, Havlin, Stanley, Goldberger, Chaos 1995;5:82-87'),
			abstract(
				'Tarvainen, Ranta-aho, Karjalainen, IEEE Trans Biomed Eng 2002;49:172-175 (pages from memory)'
			),
			abstract('Rogers et al., Front Physiol 2021;11:596567'),
			abstract('Rogers & Gronwald, Front Physiol 2022;13:879071')
		],
		limits:
			'Two conventions for F(n) are in use. This is the published one, of all residuals; the mean of the boxes reads higher by 0.09 to 0.11 on the same beats, enough to cross 0.75, so do not compare values made differently.'
	},
	{
		id: 'second-opinion',
		title: 'Second opinion on the threshold',
		theme: 'threshold',
		measures: ['thresholdsFromScaling'],
		plain:
			'Where the strap sends RR intervals, a steadily rising effort gives a second estimate: the heart rates at which alpha-1 falls through 0.75 (near the aerobic threshold) and 0.5 (near the anaerobic one). It stands beside the result of the run as an estimate, never instead of it.',
		formula:
			'straight line of alpha-1 over heart rate through the falling part of the effort\naerobic (bpm) = rate where the line is 0.75; anaerobic (bpm) = rate where it is 0.5',
		example: () => {
			const opinion = thresholdsFromScaling(cleanIntervals([rampBeats()]), -Infinity, Infinity);
			const percent = (100 * known(opinion.artefactShare)).toFixed(1);
			return {
				given:
					'A simulated ramp from 110 to 184 bpm in 24 minutes, whose beats depend on each other less and less: 0.75 is made to lie at 147 and 0.5 at 170 bpm.',
				steps: `${known(opinion.line).windowCount} windows on the line, r² ${known(opinion.line).r2.toFixed(2)}, ${percent} % bad beats.`,
				result: `0.75 at ${known(opinion.aerobicBpm).toFixed(0)} bpm, 0.5 at ${known(opinion.anaerobicBpm).toFixed(0)} bpm, confidence ${opinion.confidence}`
			};
		},
		validRange:
			'A ramp or a run with rising pace in which the rate climbs steadily by 20 bpm or more; at least 60 windows of two unbroken minutes; at most 5 % bad beats (from 3 % the confidence is low). Otherwise it is withheld, with the reason.',
		error:
			'At 0.75: 154 against 152 bpm in 15 men running; in another study 151 against 141, with a spread of 16. At 0.5: 168 against 169. On simulated ramps the method itself is off by 2 to 3 bpm (SD).',
		sources: [
			'Own rule',
			abstract('Rogers et al., Front Physiol 2021;11:596567'),
			fromMemory('Rogers et al., J Funct Morphol Kinesiol 2021;6:38'),
			abstract('Eronen et al., medRxiv 2024.08.14.24311967'),
			abstract('Rogers & Gronwald, Front Physiol 2022;13:879071')
		],
		limits:
			'Work with the arms and impacts lie outside every validation, so it is not read from rounds. What counts as the falling part, and when the opinion is withheld, are our own rules. A pace raised in steps can make it read some beats high.'
	}
];
