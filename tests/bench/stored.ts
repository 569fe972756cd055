import { unpackReadings, type Reading } from '$lib/record/columns';
import { summaryOf } from '$lib/review/summary';
import { recordOf } from './sessions';
import { median, type Row } from './table';

/** Bytes of a kept hour, and the time that measuring three hours takes. */
export async function storedRows(): Promise<Row[]> {
	const hour = await recordOf(1, 'hour');
	const bytes = Object.values(hour.body).reduce(
		(sum: number, column: unknown) => sum + (ArrayBuffer.isView(column) ? column.byteLength : 0),
		0
	);
	const readings = unpackReadings(hour.body);
	const meanBpm = readings.reduce((sum, { bpm }) => sum + bpm, 0) / readings.length;
	const plain = JSON.stringify(plainOf(readings));
	const kB = (count: number) => count / 1000;

	const long = await recordOf(3, 'long');
	// As it comes from the store: nothing of it has been unpacked before.
	const times = timesOf(
		() => structuredClone(long),
		(fresh) => summaryOf(fresh)
	);
	// What the machine takes at this moment for the same readings, by the browser's own means.
	const floor = timesOf(
		() => plainOf(unpackReadings(long.body)),
		(plain) => JSON.parse(JSON.stringify(plain)) as unknown
	);
	return [
		{
			row: 'History: stored for an hour with every RR interval',
			measured: kB(bytes),
			limit: 40,
			kind: 'most',
			unit: 'kB',
			note: `as plain JSON ${kB(plain.length).toFixed(0)} kB; mean rate ${meanBpm.toFixed(0)}`
		},
		{
			row: 'Review: summary of 3 h computed anew',
			measured: median(times),
			floor: median(floor),
			limit: 5,
			kind: 'most',
			unit: 'ms',
			note: 'the floor writes the same readings as JSON and reads that'
		}
	];
}

const plainOf = (readings: readonly Reading[]) =>
	readings.map(({ rrMs, ...reading }) => ({ ...reading, rrMs: rrMs.map((ms) => Math.round(ms)) }));

/** Milliseconds on the processor, which other programs on the machine do not lengthen. */
function timesOf<Given>(prepare: () => Given, work: (given: Given) => unknown): number[] {
	return Array.from({ length: 15 }, () => {
		const given = prepare();
		const start = process.cpuUsage();
		work(given);
		const { user, system } = process.cpuUsage(start);
		return (user + system) / 1000;
	});
}
