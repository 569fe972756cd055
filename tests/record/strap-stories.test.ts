import { unstrapped } from '$lib/record/unstrapped';
import { isWearing } from '$lib/record/corner-so-far';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { unpackReadings } from '$lib/record/columns';
import { builderOf } from './strap-entries';
import { anyStory, playedBy, readingsByHand } from './strap-stories';

describe('whatever is handed over, undone, joined, left and changed', () => {
	it('each packet is in exactly one record: that of whoever wore the strap', () => {
		fc.assert(
			fc.property(anyStory, (story) => {
				const played = playedBy(story);
				const kept = new Map(
					builderOf(...played.entries)
						.build(1e9)
						.map(({ head, body }) => [head.id, unpackReadings(body).map(({ ms }) => ms)])
				);
				const byHand = readingsByHand(played);
				for (const [id, ms] of byHand) expect(kept.get(id), id).toEqual(ms);
				expect([...kept.values()].flat()).toHaveLength(played.packets.length);
			})
		);
	});

	it('the number of a place and the turns go with the strap, and no two who are there have one number', () => {
		fc.assert(
			fc.property(anyStory, (story) => {
				const { entries, worn, places } = playedBy(story);
				const builder = builderOf(...entries);
				const present = [...builder.corners.values()].filter(({ leftMs }) => leftMs === undefined);
				expect(new Set(present.map(({ number }) => number)).size).toBe(present.length);
				for (const [corner, known] of builder.corners)
					if (known.leftMs === undefined) expect(isWearing(known)).toBe([...worn.values()].includes(corner));
				for (const [strap, corner] of worn)
					if (places.has(strap)) {
						const place = places.get(strap)!;
						expect(builder.corners.get(corner)).toMatchObject({ number: place + 1, turns: place });
					}
			})
		);
	});

	it('all of it is written anew as entries that build the same records, numbers, turns and days', () => {
		fc.assert(
			fc.property(anyStory, (story) => {
				const builder = builderOf(...playedBy(story).entries);
				const again = builderOf(...structuredClone(builder.entries()));
				expect(again.build(1e9)).toEqual(builder.build(1e9));
				expect([...again.corners]).toEqual([...builder.corners]);
				expect(unstrapped(again.start, again.corners, 1e9)).toEqual(
					unstrapped(builder.start, builder.corners, 1e9)
				);
				expect(again.entries()).toEqual(builder.entries());
			})
		);
	});
});
