import { describe, expect, it } from 'vitest';
import { restCurves } from '$lib/physiology/rest-curves';

const onsets = Array.from({ length: 11 }, (_, i) => i * 2.5);
const fall = (t: number, tauS: number) => (t > 0 ? 1 - Math.exp(-t / tauS) : 0);
/** The curves come by kinetics, then by onset, then smoothed over 2 s and over 7. */
const curveAt = (kinetics: number, onset: number, smoothing: number) =>
	restCurves()[(kinetics * onsets.length + onset) * 2 + smoothing]!;

const singles = [12, 16, 21, 28, 37, 50, 66, 88, 120, 180];
const pairs = [12, 17, 24, 34].flatMap((fastS) =>
	[120, 300].flatMap((slowS) => [0.3, 0.55].map((slowPart) => ({ fastS, slowS, slowPart })))
);

describe('the courses a rest may take', () => {
	it('are ten single falls and sixteen pairs, each with eleven onsets and two smoothings', () => {
		const curves = restCurves();
		expect(curves).toHaveLength((singles.length + pairs.length) * onsets.length * 2);
		expect(restCurves(), 'made once').toBe(curves);
	});

	it('are 1 in the mean of seconds 55 to 59, and never fall back', () => {
		for (const { doneAt, share60 } of restCurves()) {
			expect(doneAt).toHaveLength(60);
			expect(doneAt.subarray(55).reduce((sum, done) => sum + done, 0) / 5).toBeCloseTo(1, 9);
			expect(share60 > 0 && share60 < 1).toBe(true);
			expect(doneAt.every((done, i) => done >= (doneAt[i - 1] ?? 0))).toBe(true);
		}
	});

	it('are means over some seconds about the middle of each, from the onset on', () => {
		const check = (kinetics: number, fallAt: (t: number) => number) => {
			for (const [i, onsetS] of onsets.entries()) {
				const twoS = (second: number) => (fallAt(second + 1 - onsetS) + fallAt(second - onsetS)) / 2;
				const sevenS = (second: number) =>
					[-3, -2, -1, 0, 1, 2, 3].reduce((sum, k) => sum + fallAt(second + 0.5 + k - onsetS) / 7, 0);
				for (const [j, doneBy] of [twoS, sevenS].entries()) {
					const { doneAt, share60 } = curveAt(kinetics, i, j);
					const by60 = [55, 56, 57, 58, 59].reduce((sum, second) => sum + doneBy(second) / 5, 0);
					expect(share60).toBeCloseTo(by60, 9);
					for (const second of [0, 1, 7, 20, 41, 59])
						expect(doneAt[second]).toBeCloseTo(doneBy(second) / by60, 9);
				}
			}
		};
		singles.forEach((tauS, kinetics) => check(kinetics, (t) => fall(t, tauS)));
		pairs.forEach(({ fastS, slowS, slowPart }, pair) =>
			check(singles.length + pair, (t) => (1 - slowPart) * fall(t, fastS) + slowPart * fall(t, slowS))
		);
	});

	it('are pairs to one third, single falls by how near 55 s they lie, and less likely the later they begin', () => {
		const weightAt = (kinetics: number, onset = 0, smoothing = 0) =>
			Math.exp(curveAt(kinetics, onset, smoothing).logWeight);
		const first = singles.map((_, kinetics) => weightAt(kinetics));
		expect(first.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(2 / 3, 9);
		pairs.forEach((_, pair) => expect(weightAt(singles.length + pair)).toBeCloseTo(1 / 3 / pairs.length, 9));

		// A normal distribution over the logarithm, 0.7 wide.
		const likelihood = (tauS: number) => Math.exp(-((Math.log(tauS / 55) / 0.7) ** 2) / 2);
		singles.forEach((tauS, kinetics) =>
			expect(first[kinetics]! / first[5]!).toBeCloseTo(likelihood(tauS) / likelihood(50), 9)
		);
		onsets.forEach((onsetS, onset) => {
			expect(weightAt(3, onset) / weightAt(3)).toBeCloseTo(Math.exp(-onsetS / 14), 9);
			expect(weightAt(20, onset, 1)).toBeCloseTo(weightAt(20, onset, 0), 12);
		});
	});
});
