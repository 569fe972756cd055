import { describe, expect, it } from 'vitest';
import type { HeartRateMeasurement } from '$lib/gatt/heart-rate-measurement';
import { bout, mean, packetsOf, ratesOf, riseOver } from './practice-bench';

const maxBpm = 192;

/** What each round and the rest after it look like. */
async function roundsOf({ effortAt, startsS, workS, endS }: ReturnType<typeof bout>, seed: number) {
	const rates = ratesOf(await packetsOf(endS, { effortAt, seed }));
	return startsS.map((startS) => {
		const bellS = startS + workS;
		const bellBpm = mean(rates.slice(bellS - 5, bellS));
		const aroundBell = rates.slice(bellS - 10, bellS + 20);
		return {
			peakShare: Math.max(...rates.slice(startS, bellS + 20)) / maxBpm,
			meanBpm: mean(rates.slice(startS, bellS)),
			drop60: bellBpm - mean(rates.slice(bellS + 55, bellS + 60)),
			dropAfterLag: bellBpm - mean(rates.slice(bellS, bellS + 5)),
			peakLagS: aroundBell.indexOf(Math.max(...aroundBell)) - 10,
			over88S: rates.slice(startS, bellS).filter((bpm) => bpm > 0.88 * maxBpm).length
		};
	});
}

const seeds = [1, 2, 3, 5, 8, 13, 21, 34];

describe('the simulated athlete', () => {
	it('rests near the resting rate, with the beat-to-beat variation of a healthy adult', async () => {
		const readings = await packetsOf(300, { athlete: { restBpm: 55 } });
		const rrMs = readings.flatMap(({ measurement }) => measurement.rrMs);
		const differences = rrMs.slice(1).map((ms, i) => ms - (rrMs[i] ?? NaN));
		const rmssdMs = Math.sqrt(mean(differences.map((ms) => ms ** 2)));

		expect(Math.abs(mean(ratesOf(readings)) - 55)).toBeLessThan(2);
		// Short-term RMSSD of healthy adults in print: 42 ms, SD 15, range 19 to 75 (Nunan, Sandercock, Brodie, Pacing
		// Clin Electrophysiol 2010;33:1407-17; from memory).
		expect(rmssdMs).toBeGreaterThan(19);
		expect(rmssdMs).toBeLessThan(75);
	});

	it('varies far less from beat to beat when it works hard', async () => {
		const variationMs = (measurements: HeartRateMeasurement[]) => {
			const rrMs = measurements.flatMap((measurement) => measurement.rrMs);
			return Math.sqrt(mean(rrMs.slice(1).map((ms, i) => (ms - (rrMs[i] ?? NaN)) ** 2)));
		};
		const [calm, hard] = await Promise.all(
			[0, 1].map(async (effort) =>
				variationMs((await packetsOf(400, { effortAt: () => effort })).slice(200).map((r) => r.measurement))
			)
		);

		expect(hard).toBeLessThan((calm ?? NaN) / 4);
	});

	it('never exceeds its maximum, in the wildest burst', async () => {
		const readings = await packetsOf(900, { effortAt: () => 3, athlete: { maxBpm: 180 } });

		expect(Math.max(...ratesOf(readings))).toBeLessThanOrEqual(180);
		expect(Math.max(...ratesOf(readings))).toBeGreaterThan(175);
	});

	it('settles higher the harder it works', async () => {
		const settledBpm = await Promise.all(
			[0, 0.25, 0.5, 0.75, 1].map(async (effort) =>
				mean(ratesOf(await packetsOf(400, { effortAt: () => effort })).slice(300))
			)
		);

		settledBpm.slice(1).forEach((bpm, i) => expect(bpm).toBeGreaterThan((settledBpm[i] ?? NaN) + 10));
	});

	it('climbs and falls with the time constants it was given', async () => {
		const fall = async (fallS: number) => {
			const { effortAt, startsS, workS, endS } = bout({ rounds: 1, workS: 180 });
			const rates = ratesOf(await packetsOf(endS, { effortAt, athlete: { fallS } }));
			const bellS = (startsS[0] ?? NaN) + workS;
			return (rates[bellS] ?? NaN) - (rates[bellS + 59] ?? NaN);
		};

		expect(await fall(35)).toBeGreaterThan((await fall(80)) + 8);
	});

	describe.each(seeds)('over 3 x 3 minutes at fight pace, seed %i', (seed) => {
		const rounds = roundsOf(bout({ rounds: 3, workS: 180 }), seed);

		it('peaks at 90 % of its maximum or more in every round', async () => {
			// El-Ashker et al., Sports 2018;6:119: elite men over 3 x 3 minutes.
			for (const { peakShare } of await rounds) {
				expect(peakShare).toBeGreaterThanOrEqual(0.9);
				expect(peakShare).toBeLessThanOrEqual(1);
			}
		});

		it('stays up for some seconds after the bell', async () => {
			// A flat 10 to 20 s were seen after stopping: Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174.
			for (const { dropAfterLag, peakLagS } of await rounds) {
				expect(dropAfterLag).toBeLessThan(3);
				expect(peakLagS).toBeLessThanOrEqual(12);
			}
		});

		it('drops by 30 to 55 beats in the minute, by less from rest to rest', async () => {
			// A plausible span around the 40 to 60 of the gyms: common practice, no source.
			const drops = (await rounds).map(({ drop60 }) => drop60);
			for (const drop of drops) {
				expect(drop).toBeGreaterThan(30);
				expect(drop).toBeLessThan(55);
			}
			expect(riseOver(drops)).toBeLessThan(-4);
		});

		it('works at a higher rate from round to round', async () => {
			const [first, second, third] = (await rounds).map(({ meanBpm }) => meanBpm);

			expect(second).toBeGreaterThan(first ?? NaN);
			expect(third).toBeGreaterThan(second ?? NaN);
		});
	});

	it.each(seeds)(
		'spends as long above its threshold in 3 x 2 minutes as boxers do, seed %i',
		async (seed) => {
			// de Lira et al., Open Access J Sports Med 2013;4:175-182: ten boxers spent 219.8 s (SD 67.4) above their second
			// ventilatory threshold, rising from round to round. That it lies at 88 % of the maximum is an own assumption.
			const secondsOver = (await roundsOf(bout({ rounds: 3, workS: 120 }), seed)).map(
				({ over88S }) => over88S
			);
			const [first, second, third] = secondsOver;

			expect(Math.abs(mean(secondsOver) * 3 - 219.8)).toBeLessThan(67.4);
			expect(second).toBeGreaterThan(first ?? NaN);
			expect(third).toBeGreaterThan(second ?? NaN);
		}
	);
});
