import { readdirSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from '../../by-chance';
import { describe, expect, it } from 'vitest';
import { boxed, measurable } from './boxed';
import { openMHealthText } from '$lib/review/formats/open-mhealth';
import { rrStretchesOf } from '$lib/review/formats/rr-text';
import { summaryOf } from '$lib/review/summary';
import { padsPlan } from '../../store/builders';
import type { SessionRecord } from '$lib/record/body';

// The publisher's own schemas and documents; tests/fixtures/open-mhealth/README.md says whence.
const folder = 'tests/fixtures/open-mhealth';
const json = (name: string) =>
	JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')) as Record<string, unknown>;
// RFC 3339, 5.6: what "format": "date-time" stands for.
const dateTime = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/i;

const ajv = new Ajv({ strict: false, inlineRefs: false, formats: { 'date-time': dateTime } });
for (const name of readdirSync(folder).filter((name) => name.endsWith('.json'))) {
	const { $schema: _draft, ...schema } = json(name);
	ajv.addSchema({ $id: name, ...schema });
}
const isValid = {
	'heart-rate': ajv.getSchema('heart-rate-2.0.json')!,
	'rr-interval': ajv.getSchema('rr-interval-1.0.json')!
};
type Name = keyof typeof isValid;

interface DataPoint {
	header: {
		id: string;
		schema_id: { name: Name; version: string };
		acquisition_provenance: { source_name: string; modality?: string };
	};
	body: {
		heart_rate?: { value: number };
		rr_interval?: { value: number };
		effective_time_frame: {
			date_time: string;
			time_interval: { start_date_time: string; end_date_time: string };
		};
		descriptive_statistic?: string;
		temporal_relationship_to_physical_activity?: string;
	};
}
const madeAt = '2026-03-03T08:00:00.000Z';
const plan = { ...padsPlan, roundCount: 2, coolDownS: 0 };
const wholeMs = 10_000 + 2 * 240_000;
const pointsOf = (record: SessionRecord) =>
	JSON.parse(openMHealthText(record, summaryOf(record), madeAt)) as DataPoint[];
const rounds = (points: readonly DataPoint[]) => points.filter(({ body }) => body.heart_rate);

describe("the publisher's examples", () => {
	it.each(readdirSync(`${folder}/examples`))('are judged as their names say: %s', (name) => {
		const schema = name.startsWith('heart-rate') ? 'heart-rate' : 'rr-interval';
		expect(isValid[schema](json(`examples/${name}`))).toBe(name.includes('shouldPass'));
	});
});

describe('a session as Open mHealth data points', () => {
	const record = boxed({ plan, endedMs: wholeMs });
	const points = pointsOf(record);

	it("follows the publisher's schemas, heart-rate 2.0 and rr-interval 1.0", () => {
		for (const { header, body } of points) {
			expect(isValid[header.schema_id.name](body), JSON.stringify(body)).toBe(true);
			expect(header.schema_id.version).toBe(header.schema_id.name === 'heart-rate' ? '2.0' : '1.0');
		}
		expect(new Set(points.map(({ header }) => header.schema_id.name)).size).toBe(2);
	});

	// data-point 1.0 and header 1.2 of the same publisher, read in its repository.
	it('has a header with all that a data point must have, and no two of one id', () => {
		expect(points[0]!.header).toEqual({
			id: 'rec-1-work-1-average',
			creation_date_time: madeAt,
			schema_id: { namespace: 'omh', name: 'heart-rate', version: '2.0' },
			acquisition_provenance: { source_name: 'Corner Minute, chest strap', modality: 'sensed' }
		});
		expect(new Set(points.map(({ header }) => header.id)).size).toBe(points.length);
	});

	it('tells the mean and the highest rate of each round over its time', () => {
		const [first] = summaryOf(record).rounds;
		const told = rounds(points).map(({ body }) => body);
		expect(told).toHaveLength(4);
		expect(told[0]).toEqual({
			heart_rate: { value: Number(first!.averageBpm!.toFixed(1)), unit: 'beats/min' },
			effective_time_frame: {
				time_interval: {
					start_date_time: '2026-03-02T18:30:10.000Z',
					end_date_time: '2026-03-02T18:33:10.000Z'
				}
			},
			descriptive_statistic: 'average',
			temporal_relationship_to_physical_activity: 'during exercise'
		});
		expect(told[1]).toMatchObject({
			heart_rate: { value: first!.peakBpm },
			descriptive_statistic: 'maximum'
		});
	});

	it('tells every beat at its moment: neighbours lie as far apart as their interval', () => {
		const beats = points.filter(({ body }) => body.rr_interval);
		expect(beats).toHaveLength(rrStretchesOf(record).flat().length);
		const at = beats.map(({ body }) => Date.parse(body.effective_time_frame.date_time));
		expect(at.every((ms, i) => i === 0 || ms > at[i - 1]!)).toBe(true);
		// Within a packet exactly so, to the rounding of both; between packets up to the second that a packet is late.
		const off = beats.map(({ body }, i) => (i === 0 ? 0 : at[i]! - at[i - 1]! - body.rr_interval!.value));
		expect(Math.max(...off.map(Math.abs))).toBeLessThan(1000);
		expect(off.filter((ms) => Math.abs(ms) <= 1).length).toBeGreaterThan(100);
	});

	it('leaves out what was not measured', () => {
		const silent = boxed({ plan, endedMs: wholeMs }, (s) => s >= 5 && s < 200);
		expect(rounds(pointsOf(silent)).map(({ header }) => header.id)).toEqual([
			'rec-1-work-2-average',
			'rec-1-work-2-maximum'
		]);
	});

	it("follows the publisher's schemas whatever was recorded", () => {
		fc.assert(
			fc.property(measurable, (record) => {
				const wrong = pointsOf(record).filter(({ header, body }) => !isValid[header.schema_id.name](body));
				expect(wrong).toEqual([]);
			}),
			{ numRuns: 50 }
		);
	});

	it('names nobody', () => {
		expect(openMHealthText(record, summaryOf(record), madeAt)).not.toContain('Nerea');
	});

	it('says of a simulated session that it is none of a heart, and calls nothing sensed', () => {
		for (const { header } of pointsOf(boxed({ plan, endedMs: wholeMs, practice: true })))
			expect(header.acquisition_provenance).toEqual({
				source_name: 'Corner Minute, simulated strap: no heart was measured'
			});
	});

	it('is at rest in the five quiet minutes', () => {
		const quiet = {
			...plan,
			kind: 'resting' as const,
			activity: 'rest' as const,
			roundCount: 1,
			roundS: 300
		};
		const told = pointsOf(boxed({ plan: quiet, endedMs: 310_000 }));
		expect(new Set(told.map(({ body }) => body.temporal_relationship_to_physical_activity))).toEqual(
			new Set(['at rest'])
		);
	});
});
