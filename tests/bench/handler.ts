import { practiceStrap } from '$lib/gatt/practice-strap';
import { practiceEffort } from '$lib/session/practice-effort';
import { Recorder } from '$lib/session/recorder';
import { viewOf } from '$lib/session/live-view';
import type { Strap } from '$lib/gatt/strap';
import { manualClock } from '$lib/time/manual-clock';
import { athlete, planOf } from './sessions';
import { median, type Row } from './table';

const minuteMs = 60_000;
const repeats = 15;

/**
 * What the page does with a packet, from the strap's stamp to the view that the screen is made of, on a clock that
 * is moved by hand: in the minutes after the fifth and in the last before the third hour is over.
 */
export async function handlerRows(): Promise<Row[]> {
	const early: number[] = [];
	const late: number[] = [];
	for (let i = 0; i < repeats; i++) {
		const { costs } = await lived(3, i);
		early.push(
			median(costs.filter(({ ms }) => ms >= 5 * minuteMs && ms < 10 * minuteMs).map(({ costMs }) => costMs))
		);
		late.push(median(costs.filter(({ ms }) => ms >= 175 * minuteMs).map(({ costMs }) => costMs)));
	}
	const row = (name: string, measured: number, limit: number, unit: string): Row => ({
		row: name,
		measured,
		limit,
		kind: 'most',
		unit
	});
	return [
		row('Beat: work for a packet in minute 5', median(early), 1, 'ms'),
		row('Beat: work for a packet in hour 3', median(late), 1, 'ms'),
		row('Beat: hour 3 against minute 5', median(late.map((ms, i) => ms / early[i]!)), 1.2, 'times')
	];
}

/** Lives through so many hours; the cost of every packet, by elapsed time. */
async function lived(hours: number, seed: number) {
	const plan = planOf(hours);
	const clock = manualClock();
	const recorder = new Recorder({
		start: {
			sessionId: 'bench',
			startedAt: '2026-03-02T18:00:00.000Z',
			zone: 'Europe/Lisbon',
			plan,
			corners: [{ recordId: 'bench', athlete, strapName: 'Bench', practice: true }]
		},
		clock,
		originMs: 0,
		writeClock: clock,
		sink: {
			append: () => Promise.resolve(),
			finish: () => Promise.resolve(),
			discard: () => Promise.resolve()
		}
	});
	const strap = practiceStrap({
		clock,
		seed,
		effortAt: (ms) => practiceEffort(recorder.session.phaseAt(ms), ms)
	});
	const costs: { ms: number; costMs: number }[] = [];
	time(strap, costs);
	recorder.straps.attach(0, strap);
	recorder.onChange(() => viewOf(recorder, recorder.nowMs));
	await strap.connect();
	for (let ms = 0; ms < hours * 3_600_000; ms += 1000) {
		clock.advanceTo(ms);
		// Writing to the journal goes on between the packets, as it does in the page.
		if (ms % 30_000 === 0) await new Promise((resolve) => setImmediate(resolve));
	}
	strap.close();
	return { costs };
}

/** Times every listener of a strap from now on. */
function time(strap: Strap, costs: { ms: number; costMs: number }[]): void {
	const onReading = strap.onReading.bind(strap);
	strap.onReading = (listener) =>
		onReading((reading) => {
			const startMs = performance.now();
			listener(reading);
			costs.push({ ms: reading.ms, costMs: performance.now() - startMs });
		});
}
