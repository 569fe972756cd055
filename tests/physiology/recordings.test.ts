import { describe, expect, it } from 'vitest';
import { secondsOf } from '$lib/physiology/grid';
import { fitRecovery, mayShowTau } from '$lib/physiology/recovery-fit';
import { measureRest, recoveryFromS } from '$lib/physiology/recovery';
import {
	areRecordingsThere as isThere,
	bpmAt,
	endOfFullLoadS,
	everySecond,
	recordedTitle as title,
	rowsOf
} from './recorded-recoveries';
import { outside } from './outside';

describe('recorded recoveries', () => {
	// Rate at the end of full load and fall 60 s later, as listed with the recordings.
	const published = [
		{ id: 3, endBpm: 172, fall: 10.0 },
		{ id: 12, endBpm: 167, fall: 28.0 },
		{ id: 14, endBpm: 153, fall: 21.0 },
		{ id: 16, endBpm: 169, fall: 23.4 },
		{ id: 21, endBpm: 159, fall: 19.0 }
	];

	const dataset = 'Recoveries of five people on a cycle ergometer (dataset cardio of the R package doremi)';
	const forBell = outside('bell-rate', dataset, 'beats');
	const forDrop = outside('drop-60', dataset, 'beats');

	for (const { id, endBpm, fall } of published) {
		it.runIf(isThere)(title(`person ${id} falls by ${fall} bpm from ${endBpm}`), () => {
			const rows = rowsOf(id);
			const endS = endOfFullLoadS(rows);
			expect(bpmAt(rows, endS)).toBe(endBpm);
			expect(bpmAt(rows, endS) - bpmAt(rows, endS + 60)).toBeCloseTo(fall, 1);

			// The measure's windows are 5 s wide and centred 3 s before the bell and before second 60; with the
			// bell 3 s late their centres are the published instants. What is left is the bend inside a window.
			const seconds = secondsOf(everySecond(rows), (endS + 3 - 20) * 1000, 80);
			const measure = measureRest(seconds, 20, 80);
			expect(forBell.take(measure.bellBpm!, endBpm)).toBeLessThan(1);
			expect(forDrop.take(measure.drop60!, fall)).toBeLessThan(1);
		});
	}

	it.runIf(isThere)(title('come to what Methods says'), () => {
		forBell.settle();
		forDrop.settle();
	});

	const recoveryOf = (id: number) => {
		const rows = rowsOf(id);
		const endS = endOfFullLoadS(rows);
		const lengthS = Math.floor(rows.at(-1)!.timeS - endS);
		const seconds = secondsOf(everySecond(rows), (endS - 20) * 1000, 20 + lengthS);
		const { peakLagS } = measureRest(seconds, 20, 20 + lengthS);
		return (fromLengthS: number) =>
			fitRecovery(seconds, recoveryFromS(20, peakLagS), 20 + Math.min(lengthS, fromLengthS));
	};

	it.runIf(isThere)(title('person 16, flat for 10 to 20 s, is refused an exponential'), () => {
		const fitOver = recoveryOf(16);
		expect([fitOver(60), fitOver(90), fitOver(Infinity)]).toEqual([undefined, undefined, undefined]);
		// In between one can be drawn, but no length gives a tau that people get to see.
		for (let lengthS = 60; lengthS <= 300; lengthS += 10) {
			const fit = fitOver(lengthS);
			expect(fit !== undefined && mayShowTau(fit, lengthS)).toBe(false);
		}
	});

	it.runIf(isThere)(title('others of the same group get one, so the refusal is not general'), () => {
		expect(published.filter(({ id }) => recoveryOf(id)(180) !== undefined).map(({ id }) => id)).toContain(3);
	});
});
