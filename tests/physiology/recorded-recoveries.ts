import { existsSync, readFileSync } from 'node:fs';
import { secondsOf, type Reading, type Seconds } from '$lib/physiology/grid';

// Dataset `cardio` of the CRAN package `doremi` 1.0.0 (Mongin, Uribe, Courvoisier): stepped load on a cycle
// ergometer, then recovery. Read in place, never part of the product.
const recordings = new URL('../../../shared/data/exercise-recovery-21.csv', import.meta.url);
export const areRecordingsThere = existsSync(recordings);
export const recordedTitle = (text: string) =>
	areRecordingsThere
		? text
		: `SKIPPED, the folder of openly licensed recordings is not beside this project: ${text}`;

export interface RecordedRow {
	timeS: number;
	loadW: number;
	bpm: number;
}

export const recordedIds = Array.from({ length: 21 }, (_, i) => i + 1);

export const rowsOf = (id: number): RecordedRow[] =>
	readFileSync(recordings, 'utf8')
		.trim()
		.split('\n')
		.slice(1)
		.map((line) => line.split(',').map(Number))
		.filter(([person]) => person === id)
		.map(([, timeS, loadW, bpm]) => ({ timeS: timeS!, loadW: loadW!, bpm: bpm! }));

export function bpmAt(rows: RecordedRow[], timeS: number): number {
	const after = rows.findIndex((row) => row.timeS > timeS);
	const [a, b] = [rows[after - 1]!, rows[after]!];
	return a.bpm + ((b.bpm - a.bpm) * (timeS - a.timeS)) / (b.timeS - a.timeS);
}

export function endOfFullLoadS(rows: RecordedRow[]): number {
	const fullLoadW = Math.max(...rows.map((row) => row.loadW));
	return rows.filter((row) => row.loadW === fullLoadW).at(-1)!.timeS;
}

/** One reading a second, by linear interpolation between the recorded ones. */
export function everySecond(rows: RecordedRow[]): Reading[] {
	const readings: Reading[] = [];
	for (let timeS = rows[0]!.timeS; timeS < rows.at(-1)!.timeS; timeS++) {
		readings.push({ ms: timeS * 1000, bpm: bpmAt(rows, timeS), contact: 'not supported' });
	}
	return readings;
}

/** A recovery with its bell at the end of full load. */
export function recordedRest(id: number, bellS: number, restS: number): Seconds {
	const rows = rowsOf(id);
	return secondsOf(everySecond(rows), (endOfFullLoadS(rows) - bellS) * 1000, bellS + restS);
}
