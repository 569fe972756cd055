import { libraryGroups } from '$lib/components/plans/library-groups';
import { describe, expect, it } from 'vitest';
import { makePlan } from '../rounds/plans';

const named = (name: string, roundCount = 3) => makePlan({ name, roundCount });
const templates = [
	{ name: 'Gym', source: 'Common practice, no source.', plans: [named('Bag')] },
	{ name: 'Circuits', source: 'Common practice, no source.', plans: [named('Laps')] }
];
const told = (...given: Parameters<typeof libraryGroups>) =>
	libraryGroups(...given).map(
		({ name, plans }) => `${name}: ${plans.map((one) => one.plan.name).join(', ')}`
	);

describe('the order of the library', () => {
	it('begins with what was used last and with your own plans, and leaves out what is empty', () => {
		const own = [
			{ id: 'a', plan: named('Monday') },
			{ id: 'b', plan: named('Tuesday') }
		];
		expect(told(own, [named('Bag'), named('Tuesday')], templates)).toEqual([
			'Used last: Bag, Tuesday',
			'Your plans: Monday',
			'Gym: Bag',
			'Circuits: Laps'
		]);
		expect(told([], [], templates)).toEqual(['Gym: Bag', 'Circuits: Laps']);
	});

	it('shows your own plan that was used last as it is by now', () => {
		const [used] = libraryGroups([{ id: 'a', plan: named('Monday', 5) }], [named('Monday', 2)], []);
		expect(used!.plans).toEqual([{ id: 'a', plan: named('Monday', 5) }]);
	});
});
