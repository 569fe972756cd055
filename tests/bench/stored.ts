import { unpackReadings } from '$lib/record/columns';
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
	const plain = JSON.stringify(
		readings.map(({ rrMs, ...reading }) => ({ ...reading, rrMs: rrMs.map((ms) => Math.round(ms)) }))
	);
	const kB = (count: number) => count / 1000;

	const long = await recordOf(3, 'long');
	const times = Array.from({ length: 15 }, () => {
		// As it comes from the store: nothing of it has been unpacked before.
		const fresh = structuredClone(long);
		// Time on the processor, which other programs on the machine do not lengthen.
		const start = process.cpuUsage();
		summaryOf(fresh);
		const { user, system } = process.cpuUsage(start);
		return (user + system) / 1000;
	});
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
			limit: 30,
			kind: 'most',
			unit: 'ms'
		}
	];
}
