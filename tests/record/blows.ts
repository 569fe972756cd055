import fc from '../by-chance';
import { waySteps, type WayStep } from '$lib/physiology/way-steps';
import type { Blow } from '$lib/record/blow';

/** A day of 10 February to 22 March 2026. */
export const anyDay = fc
	.integer({ min: 0, max: 40 })
	.map((n) => new Date(Date.UTC(2026, 1, 10 + n)).toISOString().slice(0, 10));

/** Any blow that the schema allows, sensible or not. */
export const blowOn = (days: fc.Arbitrary<string>): fc.Arbitrary<Blow> =>
	fc
		.record({
			day: days,
			step: fc.constantFrom<WayStep>(...waySteps),
			since: fc.constant('2026-03-02T18:00:00.000Z'),
			until: fc.option(anyDay),
			clearedOn: fc.option(anyDay)
		})
		.map(({ until, clearedOn, ...told }) => ({
			...told,
			...(until && { standDownUntil: until }),
			...(clearedOn && { clearance: { by: 'Dr Aalto', day: clearedOn } })
		}));
