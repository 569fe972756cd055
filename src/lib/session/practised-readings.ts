import { practiceEffort } from './practice-effort';
import { practiceStrap, type PracticeOptions } from '$lib/gatt/practice-strap';
import type { Reading } from '$lib/record/columns';
import type { Plan } from '$lib/rounds/plan';
import { phaseAt, timelineOf } from '$lib/rounds/timeline';
import { manualClock } from '$lib/time/manual-clock';

/** The readings of a whole session of the simulated athlete, from Start to the last bell. */
export async function practisedReadings(
	plan: Plan,
	seed: number,
	athlete: PracticeOptions['athlete'] = {}
): Promise<Reading[]> {
	const timeline = timelineOf(plan);
	const clock = manualClock();
	const readings: Reading[] = [];
	const strap = practiceStrap({
		clock,
		seed,
		athlete,
		effortAt: (ms) => practiceEffort(phaseAt(timeline, ms), ms, plan.kind)
	});
	strap.onReading(({ ms, measurement }) => readings.push({ ms, ...measurement }));
	await strap.connect();
	clock.advanceTo(timeline.at(-1)?.endMs ?? 0);
	strap.close();
	return readings;
}
