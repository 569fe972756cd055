import fc from '../by-chance';

const yearMs = 365 * 86_400_000;

/**
 * Laptops that change their copies of one thing and take over what others say, with clocks that may be a year wrong: a
 * step without a change takes over what laptop `from` holds.
 */
export const historiesOf = <Change>(change: fc.Arbitrary<Change>, mostLaptops: number, mostSteps: number) =>
	doingsOf(fc.record({ change: fc.option(change, { nil: undefined }) }), mostLaptops, mostSteps);

/** The same of laptops that do something at every step. */
export const doingsOf = <Doing extends object>(
	doing: fc.Arbitrary<Doing>,
	mostLaptops: number,
	mostSteps: number
) =>
	fc.integer({ min: 2, max: mostLaptops }).chain((count) => {
		const step = fc.record({
			who: fc.nat(count - 1),
			from: fc.nat(count - 1),
			waitMs: fc.constantFrom(0, 1, 1000)
		});
		return fc.record({
			clocks: fc.array(fc.integer({ min: -yearMs, max: yearMs }), { minLength: count, maxLength: count }),
			steps: fc.array(
				fc.tuple(step, doing).map(([step, doing]) => ({ ...step, ...doing })),
				{ maxLength: mostSteps }
			)
		});
	});
