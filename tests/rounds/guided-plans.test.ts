import { checkPlan } from '$lib/rounds/check-plan';
import { promptEveryS, recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { isOneStretch, planKinds } from '$lib/rounds/plan';
import { plannedPhases } from '$lib/rounds/course';
import { timelineOf } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';
import { told } from './plans';

const silent = { endWarningS: 0, startWarningS: 0 };

describe('the plan of a guided measurement', () => {
	it('of a threshold is a warm-up, twenty minutes of running and five to cool down', () => {
		const plan = thresholdRunPlan(600);
		expect(plan).toMatchObject({
			name: 'Threshold run',
			kind: 'threshold run',
			activity: 'running',
			...silent
		});
		expect(told(timelineOf(plan))).toEqual([
			'warm-up 0-600',
			'get ready 1 600-610',
			'work 1 610-1810',
			'closing 1 1810-1870',
			'cool-down 1870-2170'
		]);
		expect(promptEveryS(plan), 'the pace is raised about every five minutes').toBe(300);
	});

	it.each(['lying', 'sitting'] as const)(
		'at rest is five quiet minutes %s, and nothing follows',
		(posture) => {
			const plan = restingPlan(posture);
			expect(plan).toMatchObject({ name: `Resting, ${posture}`, kind: 'resting', activity: 'rest', posture });
			expect(plan).toMatchObject(silent);
			expect(told(timelineOf(plan))).toEqual(['work 1 0-300']);
			expect(promptEveryS(plan)).toBeUndefined();
		}
	);

	// Rounds by age: the federations' technical and competition rules, as in the tests of the formats.
	it.each([
		[14, 1.5],
		[16, 2],
		[17, 3],
		[undefined, 3]
	])(
		'of the recovery at %s years is three rounds of %s minutes, then three minutes still',
		(age, minutes) => {
			const plan = recoveryCheckPlan(age);
			expect(plan).toMatchObject({
				name: `Recovery check, 3 x ${minutes}`,
				kind: 'recovery check',
				activity: 'shadow boxing',
				posture: 'standing'
			});
			const phases = timelineOf(plan);
			const minutesOf = (kind: string) =>
				phases.filter((phase) => phase.kind === kind).map(({ startMs, endMs }) => (endMs - startMs) / 60_000);
			expect(minutesOf('work')).toEqual([minutes, minutes, minutes]);
			expect(minutesOf('rest')).toEqual([1, 1]);
			expect(minutesOf('closing')).toEqual([3]);
			expect(promptEveryS(plan)).toBeUndefined();
		}
	);

	it('may be started as it is, and runs as it is planned where nobody presses anything', () => {
		const plans = [thresholdRunPlan(0), restingPlan('lying'), recoveryCheckPlan(undefined)];
		expect(plans.flatMap(checkPlan)).toEqual([]);
		for (const plan of plans) expect(plannedPhases(plan)).toEqual(timelineOf(plan));
	});
});

it('a run and a measurement at rest are one stretch, whose rounds nobody stops', () => {
	expect(planKinds.filter(isOneStretch)).toEqual(['threshold run', 'resting']);
	expect(isOneStretch(undefined)).toBe(false);
});
