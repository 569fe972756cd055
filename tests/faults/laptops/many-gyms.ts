import { playGym, type GymFaults } from './gym';

export interface LaptopFigures {
	gyms: number;
	laptops: number;
	acts: number;
	/** How many gyms had such a fault. */
	having: Record<keyof GymFaults, number>;
	faults: string[];
}

/** Plays gyms with the seeds from `seed` on. A fault says which seed gives it again. */
export async function playGyms(gyms: number, seed: number): Promise<LaptopFigures> {
	const figures: LaptopFigures = {
		gyms,
		laptops: 0,
		acts: 0,
		having: { differ: 0, lost: 0, back: 0, told: 0 },
		faults: []
	};
	for (let one = seed; one < seed + gyms; one++) {
		const { laptops, acts, faults, diary } = await playGym(one);
		figures.laptops += laptops;
		figures.acts += acts;
		for (const kind of ['differ', 'lost', 'back', 'told'] as const) {
			if (faults[kind].length === 0) continue;
			figures.having[kind]++;
			figures.faults.push(`LAPTOPS_SEED=${one} ${kind}: ${faults[kind][0]}`);
		}
		// One that is played alone tells what was done, and all that is wrong.
		if (gyms === 1) figures.faults.push(...Object.values(faults).flat(), ...diary);
	}
	return figures;
}
