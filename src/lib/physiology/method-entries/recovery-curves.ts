import { forecastDrop60, type Drop60Forecast } from '../forecast';
import type { MethodEntry } from '../method-entry';
import { measureRest, recoveryFromS } from '../recovery';
import { fitRecovery, mayShowTau } from '../recovery-fit';
import { bellS, cornerMinute, known } from './examples';
import { forecastFound, forecastFoundWords } from './forecast-found';
import { abstract } from './sources';

/** As after hard work: what one exponential makes of it depends on how long it looks. */
const fastAndSlow = Float64Array.from({ length: 420 }, (_, t) =>
	Math.round(95 + 45 * Math.exp(-t / 30) + 40 * Math.exp(-t / 240))
);
const listWords = (parts: readonly string[]) => `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;

/** The course of a recovery. */
export const recoveryCurveMethods: readonly MethodEntry[] = [
	{
		id: 'recovery-curve',
		title: 'Recovery curve and its time constant',
		theme: 'rest',
		measures: ['fitRecovery', 'mayShowTau', 'recoveryFromS'],
		plain:
			'A smooth curve drawn through the falling rate. Its time constant says how fast the heart comes down: after that many seconds about two thirds of the fall are done. A short one means a fast recovery.',
		formula:
			'rate(t) = floor + amplitude × exp(-t / tau), t in seconds from the later of peak and bell\nleast squares; tau within 5 to 600 s',
		example: () => {
			const recoveryS = 180;
			const seconds = Float64Array.from({ length: recoveryS }, (_, t) => 120 + 60 * Math.exp(-t / 60));
			const fit = known(fitRecovery(seconds, recoveryFromS(0, 0), recoveryS));
			const at60 = fit.floorBpm + fit.amplitudeBpm * Math.exp(-60 / fit.tauS);
			const isShown = mayShowTau(fit, recoveryS);
			const twice = [180, 300, 420].map((lengthS) => {
				const { tauS, tauErrorS } = known(fitRecovery(fastAndSlow, 0, lengthS));
				return `${tauS.toFixed(0)} ± ${tauErrorS.toFixed(0)} s over ${lengthS} s`;
			});
			return {
				given:
					'A recovery of three minutes from 180 bpm that follows 120 + 60 × exp(-t / 60). Then a heart with a fast fall and a slow one, 95 + 45 × exp(-t / 30) + 40 × exp(-t / 240), in whole beats.',
				steps: `The fit finds a floor of ${fit.floorBpm.toFixed(1)} and an amplitude of ${fit.amplitudeBpm.toFixed(1)} bpm, so ${at60.toFixed(2)} bpm at 60 s. Of the second heart, always the same one, it finds a tau of ${listWords(twice)}.`,
				result: `tau ${fit.tauS.toFixed(1)} s, ${isShown ? 'long and clean enough to be shown' : 'not shown'}`
			};
		},
		validRange:
			'At least 30 readings, a falling rate, at least 90 % of the variance explained. Tau is shown only from recoveries of 180 s or more whose tau error is under a quarter of tau (cool-downs, long rests); never from a corner minute.',
		error:
			'The standard error of tau stands beside it. It is widened because neighbouring readings of a strap are alike. It says only how well this curve fits these readings. It leaves out that one exponential is not enough after maximal exercise (Pierpont, Stolpman, Gornick 2000): a fast fall turns into a slow one, and the longer the recovery, the longer tau comes out. Between days tau differs by about 35 %.',
		sources: [
			'Own rule',
			abstract('Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174'),
			abstract(
				'Joseph, Kanthakumar, Tharion, Indian J Physiol Pharmacol 2023;67:125-130 (two exponentials against one; its result was not seen)'
			),
			abstract('Buchheit, Front Physiol 2014;5:73')
		],
		limits:
			'A tau is compared only with one from a recovery of the same length, such as the three still minutes of the recovery check. A single exponential is not stable before about three minutes (Pierpont, Stolpman, Gornick 2000). The rate may stay flat for 10 to 20 s after stopping, and the curve does not know that. The limits for showing tau, except the three minutes, are our own rule.'
	},
	{
		id: 'forecast',
		title: 'Forecast of the drop',
		theme: 'rest',
		measures: ['forecastDrop60', 'restCurves', 'WeighedDrops', 'beliefsOf', 'withUsualFall'],
		plain:
			"From second 20 of a rest: between which figures the drop will probably lie at second 60. It is shown once the range is narrow enough to be of use, and it learns from the earlier rests of the session, and of the athlete's sessions like it.",
		formula:
			'rate = level - drop × curve + wander, for each of 572 curves: flat for 0 to 25 s after the bell, then one exponential (tau 12 to 180 s) or a fast and a slow one together, smoothed over 2 or 7 s\nlevel and drop by least squares on means of 3 s, from the later of peak and bell on; the better a curve fits, the more its drop counts\nbefore the readings a drop is taken to be 38 ± 22 beats, after earlier rests mostly their mean ± 20 %, all sessions before (the 20 newest like ones) counting as one rest\nthe range leaves out a tenth of what counts at either end and is widened a little for what no curve knows\nshown while it is narrower than 24 beats',
		example: () => {
			const forecast = known(forecastDrop60(cornerMinute, bellS, bellS + 40));
			const { bellBpm, drop60 } = measureRest(cornerMinute, bellS, bellS + 60);
			const earlier = [{ bellBpm, drop60: 45 }];
			const learned = known(forecastDrop60(cornerMinute, bellS, bellS + 30, { earlier }));
			const words = ({ low, high }: Drop60Forecast) => `${low.toFixed(0)} to ${high.toFixed(0)} beats`;
			return {
				given: 'The corner minute of the other examples, 40 s after its bell; no earlier rest.',
				steps: `30 s after the bell, and with a drop of 45 in the rest before, it was ${words(learned)}. At second 60 the drop turned out as ${known(drop60).toFixed(1)}.`,
				result: `heading for ${words(forecast)}`
			};
		},
		validRange:
			'Seconds 20 to 59 of a rest, with a bell rate and at least 10 readings since the bell. Earlier rests count where their bell rate was within 15 beats.',
		error: `The range is made to hold four drops of five. Below stands, for each kind of rest (number of rests), how many drops it held of those where it was shown, at seconds 20, 30 and 45. ${forecastFound.map(forecastFoundWords).join('. ')}. Because the middle is that far off, only the range is shown.`,
		sources: [
			'Own rule',
			abstract('Barak et al., J Sports Sci Med 2011;10:369-375'),
			abstract('Suzic Lazic et al., Clin Physiol Funct Imaging 2017;37:117-123'),
			abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43')
		],
		limits:
			'It assumes an undisturbed rest: standing up or shadow boxing in the corner spoils it. Where the rate stays high for 20 s after the bell, there is nothing to go by at second 20. The recordings are 21 people on a cycle ergometer (data set cardio of the CRAN package doremi 1.0.0, by Mongin, Uribe and Courvoisier); most rode easily and fell slowly. They were looked at when the constants were chosen; the simulated rests were not.'
	}
];
