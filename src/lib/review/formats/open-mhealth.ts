import type { SessionRecord } from '$lib/record/body';
import type { Summary } from '$lib/record/summary';
import { momentAt } from './moment-at';
import { rrStretchesOf } from './rr-text';

/**
 * A session as Open mHealth data points (data-point 1.0): the mean and the highest rate of each round as heart-rate 2.0,
 * and every beat whose RR interval the strap sent as rr-interval 1.0. What was not measured has no data point. It names
 * nobody. A simulated session says so as the source of each data point, and none of it is called sensed.
 *
 * @param record as it was put right
 * @param madeAt moment of the export, ISO 8601
 */
export function openMHealthText(record: SessionRecord, summary: Summary, madeAt: string): string {
	const { head } = record;
	const isAtRest = head.plan.kind === 'resting';
	const provenance = head.practice
		? { source_name: 'Corner Minute, simulated strap: no heart was measured' }
		: { source_name: 'Corner Minute, chest strap', modality: 'sensed' };
	const dataPoint = (part: string, name: string, version: string, body: object) => ({
		header: {
			id: `${head.id}-${part}`,
			creation_date_time: madeAt,
			schema_id: { namespace: 'omh', name, version },
			acquisition_provenance: provenance
		},
		body
	});
	const activity = { temporal_relationship_to_physical_activity: isAtRest ? 'at rest' : 'during exercise' };
	const rounds = summary.rounds.flatMap(({ averageBpm, peakBpm, startMs, endMs }, i) => {
		const time_interval = {
			start_date_time: momentAt(head, startMs),
			end_date_time: momentAt(head, endMs)
		};
		const statistics = [
			['average', averageBpm],
			['maximum', peakBpm]
		] as const;
		return statistics.flatMap(([descriptive_statistic, bpm]) =>
			bpm === undefined
				? []
				: dataPoint(`work-${i + 1}-${descriptive_statistic}`, 'heart-rate', '2.0', {
						heart_rate: { value: tenths(bpm), unit: 'beats/min' },
						effective_time_frame: { time_interval },
						descriptive_statistic,
						...activity
					})
		);
	});
	const beats = beatsOf(record).map(({ ms, rrMs }, i) =>
		dataPoint(`beat-${i + 1}`, 'rr-interval', '1.0', {
			rr_interval: { value: tenths(rrMs), unit: 'ms' },
			effective_time_frame: { date_time: momentAt(head, ms) },
			...(isAtRest && activity)
		})
	);
	return `${JSON.stringify([...rounds, ...beats])}\n`;
}

const tenths = (value: number) => Math.round(value * 10) / 10;

/**
 * The beats with the moment of each: the last one of a packet lies where the packet came, up to a second late, and those
 * before it as far back as the intervals between them are long.
 */
function beatsOf(record: SessionRecord): { ms: number; rrMs: number }[] {
	return rrStretchesOf(record).flatMap((stretch) => {
		const beats = stretch.map((interval) => ({ ...interval }));
		for (let i = beats.length - 2; i >= 0; i--)
			if (stretch[i]!.ms === stretch[i + 1]!.ms) beats[i]!.ms = beats[i + 1]!.ms - beats[i + 1]!.rrMs;
		return beats;
	});
}
