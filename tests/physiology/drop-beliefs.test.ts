import { describe, expect, it } from 'vitest';
import { beliefsOf, withUsualFall } from '$lib/physiology/drop-beliefs';

const rests = (...drops: number[]) => drops.map((drop60) => ({ bellBpm: 180, drop60 }));
const anybody = { mean: 38, variance: 22 ** 2 };

describe('what is believed of a drop', () => {
	it('is that of anybody where no rest is known', () => {
		expect(beliefsOf({}, 180)).toEqual([{ ...anybody, logWeight: 0 }]);
		expect(beliefsOf({ earlier: [], otherSessions: [] }, 180)).toEqual([{ ...anybody, logWeight: 0 }]);
	});

	it('is to three parts in five that of the athlete, and to two that of anybody', () => {
		const [own, other, ...more] = beliefsOf({ earlier: rests(50, 50) }, 180);

		// Rests of 50 lie 10 apart by themselves (20 %): two of them weigh 2 / 100 beside 1 / 484.
		const precision = 2 / 100 + 1 / 484;
		expect(own!.mean).toBeCloseTo((50 * (2 / 100) + 38 / 484) / precision, 9);
		expect(own!.variance).toBeCloseTo(1 / precision + 100, 9);
		expect(Math.exp(own!.logWeight)).toBeCloseTo(0.6, 12);
		expect(other).toEqual({ ...anybody, logWeight: Math.log(0.4) });
		expect(more).toEqual([]);
	});

	it('takes rests to lie as far apart as they do, and four beats at least', () => {
		// 30 and 70: 20 on either side of their mean, which is more than 20 % of it.
		const wide = 2 / 400 + 1 / 484;
		const [scattered] = beliefsOf({ earlier: rests(30, 70) }, 180);
		expect(scattered!.mean).toBeCloseTo((50 * (2 / 400) + 38 / 484) / wide, 9);
		expect(scattered!.variance).toBeCloseTo(1 / wide + 400, 9);

		// 20 % of 5 would be one beat; a rise of 5 is as far from nothing as a fall is.
		const narrow = 1 / 16 + 1 / 484;
		const [small] = beliefsOf({ earlier: rests(5) }, 180);
		expect(small!.variance).toBeCloseTo(1 / narrow + 16, 9);
		const [risen] = beliefsOf({ earlier: rests(-50) }, 180);
		const far = 1 / 100 + 1 / 484;
		expect(risen!.mean).toBeCloseTo((-50 / 100 + 38 / 484) / far, 9);
		expect(risen!.variance).toBeCloseTo(1 / far + 100, 9);
	});

	it('counts all other sessions for one rest of this one, but wanders as far as they do', () => {
		// 40 and 60 of other days are one rest of 50, and 10 off it; beside it stands the 56 of today.
		const [own] = beliefsOf({ earlier: rests(56), otherSessions: rests(40, 60) }, 180);
		const ofOneRest = (0.2 * 53) ** 2;
		const precision = 2 / ofOneRest + 1 / 484;
		expect(own!.mean).toBeCloseTo((53 * (2 / ofOneRest) + 38 / 484) / precision, 9);
		expect(own!.variance).toBeCloseTo(1 / precision + ofOneRest, 9);

		const [farApart] = beliefsOf({ otherSessions: rests(20, 60) }, 180);
		// Their mean is 40, of which 20 % would be 8: they lie 20 off it.
		expect(farApart!.variance).toBeCloseTo(1 / (1 / 400 + 1 / 484) + 400, 9);
	});

	it('learns from rests whose bell rate lay within 15 beats, and which have a drop', () => {
		const at = (bellBpm: number | undefined, drop60: number | undefined = 50) =>
			beliefsOf({ earlier: [{ bellBpm, drop60 }] }, 180).length;

		expect([at(165), at(195), at(180)]).toEqual([2, 2, 2]);
		expect([at(164.9), at(195.1), at(undefined)]).toEqual([1, 1, 1]);
		expect(beliefsOf({ otherSessions: [{ bellBpm: 180, drop60: undefined }] }, 180)).toHaveLength(1);
		expect(beliefsOf({ otherSessions: rests(0) }, 180)).toHaveLength(2);
	});
});

describe('a belief joined with that of the whole fall', () => {
	it('is the product of both normal distributions, weighed by how well they agree', () => {
		// Half of a whole fall of 68 +/- 50 is 34 +/- 25.
		const joined = withUsualFall({ mean: 38, variance: 484, logWeight: 0.5 }, 0.5);
		const precision = 1 / 484 + 1 / 625;

		expect(joined.precision).toBeCloseTo(precision, 12);
		expect(joined.mean).toBeCloseTo((38 / 484 + 34 / 625) / precision, 9);
		// They lie 4 apart, with the variance of both; the root of the precision is what a normal distribution is divided by.
		const density = Math.exp(-(4 ** 2) / (2 * 1109)) / Math.sqrt(1109);
		expect(joined.logWeight).toBeCloseTo(0.5 + Math.log(density * Math.sqrt(precision)), 9);
	});
});
