import { forecastDrop60 } from '../forecast';
import type { MethodEntry } from '../method-entry';
import { measureRest, recoveryFromS } from '../recovery';
import { fitRecovery, mayShowTau } from '../recovery-fit';
import { bellS, cornerMinute, known } from './examples';
import { abstract } from './sources';

/** The course of a recovery. */
export const recoveryCurveMethods: readonly MethodEntry[] = [
	{
		id: 'recovery-curve',
		title: 'Recovery curve and its time constant',
		theme: 'rest',
		measures: ['fitRecovery', 'mayShowTau', 'recoveryFromS'],
		plain:
			'A smooth curve laid through the falling rate. Its time constant says how fast the heart comes down: after that many seconds about two thirds of the fall are done. A short one means a fast recovery.',
		formula:
			'rate(t) = floor + amplitude × exp(-t / tau), t in seconds from the later of peak and bell\nleast squares; tau within 5 to 600 s',
		example: () => {
			const recoveryS = 180;
			const seconds = Float64Array.from({ length: recoveryS }, (_, t) => 120 + 60 * Math.exp(-t / 60));
			const fit = known(fitRecovery(seconds, recoveryFromS(0, 0), recoveryS));
			const at60 = fit.floorBpm + fit.amplitudeBpm * Math.exp(-60 / fit.tauS);
			const isShown = mayShowTau(fit, recoveryS);
			return {
				given: 'A recovery of three minutes from 180 bpm that follows 120 + 60 × exp(-t / 60).',
				steps: `The fit finds a floor of ${fit.floorBpm.toFixed(1)} and an amplitude of ${fit.amplitudeBpm.toFixed(1)} bpm, so ${at60.toFixed(2)} bpm at 60 s.`,
				result: `tau ${fit.tauS.toFixed(1)} s, ${isShown ? 'long and clean enough to be shown' : 'not shown'}`
			};
		},
		validRange:
			'At least 30 readings, a falling rate, at least 90 % of the variance explained. Tau is shown only from recoveries of 180 s or more whose tau error is under a quarter of tau (cool-downs, long rests); never from a corner minute.',
		error:
			'The standard error of tau stands beside it, widened because neighbouring seconds of a strap hang together.',
		sources: ['Own rule', abstract('Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174')],
		limits:
			'A single exponential is not stable before about three minutes. The rate may stay flat for 10 to 20 s after stopping, and the curve does not know that. The limits for showing tau, except the three minutes, are our own rule.'
	},
	{
		id: 'forecast',
		title: 'Forecast of the drop',
		theme: 'rest',
		measures: ['forecastDrop60'],
		plain:
			'From second 20 of a rest: how large the drop will probably be at second 60, as a range. It is shown only once the range is narrow enough to be of use.',
		formula:
			"level, then from an onset within 20 s of the bell level - amplitude × (1 - exp(-(t - onset) / tau))\ntau is the athlete's own, else 60 s; amplitude, level and onset by least squares\nshown while the 80 % range is narrower than 16 beats",
		example: () => {
			const forecast = known(forecastDrop60(cornerMinute, bellS, bellS + 30, { tauS: 35 }));
			const { drop60 } = measureRest(cornerMinute, bellS, bellS + 60);
			return {
				given:
					'The corner minute of the other examples, 30 s after its bell, for an athlete with a tau of 35 s; this rest falls with one of 32 s.',
				steps: `At second 60 the drop turned out as ${known(drop60).toFixed(1)}.`,
				result: `${forecast.drop60.toFixed(0)} beats, probably ${forecast.low.toFixed(0)} to ${forecast.high.toFixed(0)}`
			};
		},
		validRange: 'Seconds 20 to 59 of a rest, with a bell rate and at least 10 readings since the bell.',
		error:
			'In simulated rests (tau 30 to 120 s, amplitude 30 to 90 bpm) 75 to 85 % of the drops fell inside the range at seconds 20, 30 and 45. For larger falls it was about 70 % at second 20.',
		sources: ['Own rule'],
		limits: 'It supposes an undisturbed rest: standing up or shadow boxing in the corner spoils it.'
	}
];
