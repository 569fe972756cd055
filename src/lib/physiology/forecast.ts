import { meanOf, type Seconds } from './grid';
import { beliefsOf, withUsualFall, type Belief, type ForecastPrior } from './drop-beliefs';
import { peakOf, recoveryFromS } from './recovery';
import { restCurves, type RestCurve } from './rest-curves';
import { leastInWindow, windowS } from './rest-taken';
import { WeighedDrops } from './weighed-drops';

/** The drop at 60 as it will probably turn out, bpm, unrounded; `low` to `high` is made to hold four of five. */
export interface Drop60Forecast {
	drop60: number;
	low: number;
	high: number;
}

const fromSecond = 20;
const toSecond = 60;
const leastReadings = 10;
const widestBpm = 24;

// The level that the rate falls from lies near the bell rate; the heart often climbs on for some seconds.
const levelSdBpm = 6;

// Readings wander about any curve. How far, is judged from the rest itself (three guesses, bpm) and grows where the
// bell rate is low, because breathing and posture move a strained heart less than a calm one. Neighbouring
// seconds wander together, so that they are taken in blocks. Chosen on simulated rests that the tests do not use.
const wanderBpm = [0.7, 1.5, 3.2];
const wanderWeights = [0.4, 0.4, 0.2];
const wanderS = 12;
const blockS = 3;
const strainedBpm = 170;
const calmerPerBpm = 20;
const calmest = 3.5;
// What no curve knows, bpm for each quarter of a minute still to come.
const unknownBpm = 1.5;
const unknownPerS = 15;

interface Block {
	/** Seconds from the bell that have a reading. */
	seconds: number[];
	middleS: number;
	/** Mean rate less the bell rate. */
	bpm: number;
}

/**
 * Forecasts the drop at 60 while the rest runs, from second 20 on, with an interval that holds it in about four of
 * five rests. Every curve of `restCurves` is laid through the readings since the later of peak and bell, with level
 * and size left open; the better it fits, the more its drop counts. The interval leaves out a tenth of what counts
 * at either end and is then widened by what no curve knows. Own rule.
 *
 * Error: the Methods entry states per family of rests how many drops it held; a test measures them.
 *
 * @param seconds a grid that reaches 10 s back before the bell
 * @param bellS the grid second of the bell, whole
 * @param nowS the grid second reached; entries from here on are not read
 * @param widest refuse an interval as wide as this, bpm
 * @returns undefined before second 20, from second 60 on, without a bell rate, under 10 readings since the
 *   bell, and while the interval is too wide to be shown
 * @example forecastDrop60(grid, 10, 40, { earlier: [firstRest] }) // 41.2, low 36, high 46.4
 */
export function forecastDrop60(
	seconds: Seconds,
	bellS: number,
	nowS: number,
	prior: ForecastPrior = {},
	widest = widestBpm
): Drop60Forecast | undefined {
	if (!(nowS - bellS >= fromSecond && nowS - bellS < toSecond)) return undefined;
	const lived = seconds.subarray(0, nowS);
	const bellBpm = meanOf(lived, bellS - windowS, bellS, leastInWindow);
	if (bellBpm === undefined) return undefined;
	let readings = 0;
	for (let i = bellS; i < lived.length; i++) if (!Number.isNaN(lived[i]!)) readings++;
	const peak = peakOf(lived, bellS, lived.length);
	const blocks = blocksOf(lived, bellS, recoveryFromS(bellS, peak && peak.atS - bellS), bellBpm);
	if (readings < leastReadings || blocks.length === 0) return undefined;

	const calm = Math.min(calmest, Math.max(1, 1 + (strainedBpm - bellBpm) / calmerPerBpm));
	const window = windowOf(lived, bellS, bellBpm);
	const drops = possibleDrops(blocks, window, beliefsOf(prior, bellBpm), calm);
	const [least, drop60, most] = drops.quantiles([0.1, 0.5, 0.9]) as [number, number, number];
	const unknown = (unknownBpm * Math.sqrt(calm) * (bellS + toSecond - lived.length)) / unknownPerS;
	const low = drop60 - Math.hypot(drop60 - least, unknown);
	const high = drop60 + Math.hypot(most - drop60, unknown);
	return high - low < widest ? { drop60, low, high } : undefined;
}

/** Counted back from the newest second, so that a block that is not full is the oldest. */
function blocksOf(lived: Seconds, bellS: number, fromS: number, bellBpm: number): Block[] {
	const blocks: Block[] = [];
	for (let toS = lived.length; toS > fromS; toS -= blockS) {
		const startS = Math.max(fromS, toS - blockS);
		const bpm = meanOf(lived, startS, toS);
		if (bpm === undefined) continue;
		const seconds: number[] = [];
		for (let i = startS; i < toS; i++) if (!Number.isNaN(lived[i]!)) seconds.push(i - bellS);
		const middleS = seconds.reduce((sum, second) => sum + second, 0) / seconds.length;
		blocks.unshift({ seconds, middleS, bpm: bpm - bellBpm });
	}
	return blocks;
}

/** The window before second 60: what of its mean is known already, bpm from the bell rate, and which seconds are open. */
function windowOf(lived: Seconds, bellS: number, bellBpm: number) {
	const open: number[] = [];
	let knownBpm = 0;
	for (let second = toSecond - windowS; second < toSecond; second++) {
		const bpm = lived[bellS + second] ?? NaN;
		if (Number.isNaN(bpm)) open.push(second);
		else knownBpm += (bpm - bellBpm) / windowS;
	}
	return { open, knownBpm };
}

/**
 * The drop that each curve, belief and guess of the wander leads to, weighed by how well it explains the readings.
 * For each of them rate = level - drop x curve + wander, where level and drop are normal before the readings
 * and the wander is a first-order autoregression: linear least squares with two unknowns.
 */
function possibleDrops(
	blocks: readonly Block[],
	{ open, knownBpm }: ReturnType<typeof windowOf>,
	beliefs: readonly Belief[],
	calm: number
): WeighedDrops {
	const n = blocks.length;
	const last = blocks[n - 1]!;
	const kept = (overS: number) => Math.exp(-overS / wanderS);
	// Each block less what it shares with the one before, so that all count as if they were independent.
	const shares = blocks.map(({ middleS }, k) => (k === 0 ? 0 : kept(middleS - blocks[k - 1]!.middleS)));
	const scales = shares.map((share) => 1 / Math.sqrt(1 - share ** 2));
	const less = (value: number, before: number, k: number) => (value - shares[k]! * before) * scales[k]!;
	const level = blocks.map((_, k) => less(1, 1, k));
	const rate = blocks.map(({ bpm }, k) => less(bpm, blocks[k - 1]?.bpm ?? 0, k));
	let [levelLevel, levelRate, rateRate] = [0, 0, 0];
	for (let k = 0; k < n; k++) {
		levelLevel += level[k]! ** 2;
		levelRate += level[k]! * rate[k]!;
		rateRate += rate[k]! ** 2;
	}

	const openShare = open.length / windowS;
	// The newest wander lasts into the window for a part.
	const carried = open.reduce((sum, second) => sum + kept(Math.max(0, second - last.middleS)) / windowS, 0);
	const newWander = openShare ** 2 - carried ** 2;
	const guesses = wanderBpm.map((bpm, w) => {
		const variance = (bpm * calm) ** 2;
		return { variance, logWeight: Math.log(wanderWeights[w]!) - (n * Math.log(variance)) / 2 };
	});

	const curves = restCurves();
	const drops = new WeighedDrops(curves.length * beliefs.length * guesses.length);
	for (const curve of curves) {
		let [done, doneDone, doneLevel, doneRate] = [0, 0, 0, 0];
		for (let k = 0; k < n; k++) {
			const { seconds } = blocks[k]!;
			const before = done;
			done = sumAt(curve, seconds) / seconds.length;
			const free = less(done, before, k);
			doneDone += free * free;
			doneLevel += free * level[k]!;
			doneRate += free * rate[k]!;
		}
		const levelCounts = openShare - carried;
		const dropCounts = carried * done - sumAt(curve, open) / windowS;
		for (const belief of beliefs) {
			const { mean, precision, logWeight } = withUsualFall(belief, curve.share60);
			for (const { variance, logWeight: guessed } of guesses) {
				const a = levelLevel / variance + 1 / levelSdBpm ** 2;
				const b = -doneLevel / variance;
				const c = doneDone / variance + precision;
				const forLevel = levelRate / variance;
				const forDrop = precision * mean - doneRate / variance;
				const determinant = a * c - b * b;
				const fitLevel = (c * forLevel - b * forDrop) / determinant;
				const fitDrop = (a * forDrop - b * forLevel) / determinant;
				const misfit = rateRate / variance + precision * mean ** 2 - forLevel * fitLevel - forDrop * fitDrop;
				drops.push(
					-(knownBpm + carried * last.bpm + levelCounts * fitLevel + dropCounts * fitDrop),
					(levelCounts ** 2 * c - 2 * levelCounts * dropCounts * b + dropCounts ** 2 * a) / determinant +
						variance * newWander,
					curve.logWeight + logWeight + guessed - (misfit + Math.log(determinant)) / 2
				);
			}
		}
	}
	return drops;
}

function sumAt({ doneAt }: RestCurve, seconds: readonly number[]): number {
	let sum = 0;
	for (const second of seconds) sum += doneAt[second]!;
	return sum;
}
