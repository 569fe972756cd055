import { seededRandom } from './random';

export interface PracticeAthlete {
	/** Quiet, fresh and sitting, beats a minute. */
	restBpm: number;
	/** Never exceeded, beats a minute. */
	maxBpm: number;
	/** Time constant of the climb to a harder effort, s. */
	riseS: number;
	/** Time constant of the fall after it, s; the fitter, the shorter. */
	fallS: number;
}

export interface Beat {
	/** The clock's time of the beat. */
	ms: number;
	/** The interval it ended, ms. */
	rrMs: number;
}

// Chosen so that bouts land in the published ranges named beside the tests, and not a model of physiology beyond that.
const typicalAthlete: PracticeAthlete = { restBpm: 62, maxBpm: 192, riseS: 25, fallS: 55 };
/** The heart answers the muscles late: for this long after a bell it goes on as before it. */
const lagMs = 5000;
/** Share of the reserve (maximum less rest) that fight pace settles at when fresh, and what tiring adds. */
const fightPaceShare = 0.86;
const driftShare = 0.1;
/** Share of the reserve below which a tired athlete does not settle while resting. */
const tiredFloorShare = 0.6;
const tiringS = 240;
const freshenUpS = 900;
/** Slow wander of the rate: nobody works or rests evenly. */
const wanderBpm = 1.2;
const wanderS = 12;
/**
 * How much a beat leans on the one before it, by strain (share of the reserve): most at rest, not at all near the
 * threshold, and against it above. So placed that alpha-1 of a rising run falls through 0.75 at about 84 % and
 * through 0.5 at about 89 % of the maximum, in the order and the region of Rogers et al. (Front Physiol 2021;11:596567; J
 * Funct Morphol Kinesiol 2021;6:38, from memory).
 */
const calmLean = 0.85;
const leanAtStrain = (strain: number) => Math.max(-0.5, Math.min(calmLean, 0.3 - 5 * (strain - 0.73)));

/**
 * A heart that beats under the effort of a simulated athlete. It moves from beat to beat, so the same seed and
 * efforts give the same beats however often it is asked.
 *
 * `effortAt` is asked for times up to 5 s before `startMs`: 0 is rest, 1 fight pace, bursts may exceed it.
 */
export function simulatedHeart({
	effortAt,
	startMs,
	seed,
	athlete
}: {
	effortAt: (ms: number) => number;
	startMs: number;
	seed: number;
	athlete?: Partial<PracticeAthlete>;
}): { beatsUntil: (ms: number) => Beat[] } {
	const { restBpm, maxBpm, riseS, fallS } = { ...typicalAthlete, ...athlete };
	const random = seededRandom(seed);
	let bpm = restBpm;
	let tiredness = 0;
	let wander = 0;
	let chance = 0;
	let breath = random.uniform();
	let next = nextBeat(startMs);

	/** What the heart would settle at, as a share of its reserve. */
	function settlingShare(effort: number): number {
		const work = effort * (fightPaceShare + driftShare * tiredness);
		const rest = Math.max(0, 1 - effort) * tiredFloorShare * tiredness;
		return Math.min(1, work + rest);
	}

	function nextBeat(fromMs: number): Beat {
		const strainOf = (rate: number) => Math.max(0, (rate - restBpm) / (maxBpm - restBpm));
		// Like its breathing, a strained heart's wander is small.
		const rate = Math.min(maxBpm, bpm + wander * (1 - Math.min(1, strainOf(bpm))));
		const strain = strainOf(rate);
		const lean = leanAtStrain(strain);
		chance = lean * chance + Math.sqrt(1 - lean ** 2) * random.normal();
		// Breathing and chance move the beats of a calm heart by a twentieth and those of a strained one hardly at all.
		const calm = (1 - strain) ** 2;
		const shift = 0.045 * calm ** 2 * Math.sin(2 * Math.PI * breath) + (0.002 + 0.006 * calm) * chance;
		const rrMs = Math.max(60_000 / maxBpm, (60_000 / rate) * (1 + shift));
		return { ms: fromMs + rrMs, rrMs };
	}

	function live({ ms, rrMs }: Beat): void {
		const seconds = rrMs / 1000;
		const effort = Math.max(0, effortAt(ms - lagMs));
		const targetTiredness = Math.min(1, effort ** 2);
		const tiringFor = targetTiredness > tiredness ? tiringS : freshenUpS;
		tiredness += (targetTiredness - tiredness) * settled(seconds, tiringFor);
		const targetBpm = restBpm + (maxBpm - restBpm) * settlingShare(effort);
		bpm += (targetBpm - bpm) * settled(seconds, targetBpm > bpm ? riseS : fallS);
		const kept = 1 - settled(seconds, wanderS);
		wander = wander * kept + wanderBpm * Math.sqrt(1 - kept ** 2) * random.normal();
		const breathsPerS = 0.22 + 0.5 * Math.min(1, effort);
		breath = (breath + breathsPerS * seconds) % 1;
	}

	return {
		/** The beats since the last call, up to and including `ms`. */
		beatsUntil(ms) {
			const beats: Beat[] = [];
			while (next.ms <= ms) {
				beats.push(next);
				live(next);
				next = nextBeat(next.ms);
			}
			return beats;
		}
	};
}

/** The share of its way that a first-order process goes in `seconds`. */
function settled(seconds: number, timeConstantS: number): number {
	return 1 - Math.exp(-seconds / timeConstantS);
}
