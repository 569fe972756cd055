import { practiceStrap, type PracticeOptions } from '$lib/gatt/practice-strap';
import type { StrapReading } from '$lib/gatt/strap';
import { manualClock } from '$lib/time/manual-clock';

const restS = 60;
const standing = 0.1;

/** Fight pace in the rounds, rest between them and after. Rounds begin after two quiet minutes. */
export function bout({ rounds, workS }: { rounds: number; workS: number }) {
	const warmS = 120;
	const startsS = Array.from({ length: rounds }, (_, round) => warmS + round * (workS + restS));
	const effortAt = (ms: number) => {
		const s = ms / 1000;
		if (s < warmS) return standing;
		return startsS.some((startS) => s >= startS && s < startS + workS) ? 1 : 0;
	};
	return { effortAt, startsS, workS, endS: warmS + rounds * (workS + restS) };
}

/** Every packet of the first `endS` seconds. */
export async function packetsOf(endS: number, options: Partial<PracticeOptions>): Promise<StrapReading[]> {
	const clock = manualClock();
	const strap = practiceStrap({ clock, seed: 1, effortAt: () => 0, ...options });
	const readings: StrapReading[] = [];
	strap.onReading((reading) => readings.push(reading));
	await strap.connect();
	clock.advanceTo(endS * 1000);
	strap.close();
	return readings;
}

/** Rate in each second; entry i stands for the second that ends at (i + 1) s. */
export const ratesOf = (readings: StrapReading[]) => readings.map(({ measurement }) => measurement.bpm);
export const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
export const riseOver = (values: number[]) => (values.at(-1) ?? NaN) - (values[0] ?? NaN);
