import * as v from 'valibot';
import { recordVersion, shape } from './check';
import type { RecordHead } from './head';

const columnsSchema = shape({
	version: v.literal(recordVersion),
	/** Elapsed ms of the first packet; negative where it came before Start. */
	firstMs: v.pipe(v.number(), v.safeInteger()),
	/** Whole ms from each packet to the next (the first entry is 0). */
	stepMs: v.union([v.instance(Uint16Array), v.instance(Uint32Array)]),
	bpm: v.union([v.instance(Uint8Array), v.instance(Uint16Array)]),
	/** Skin contact in bits 0-1 (1 not supported, 2 no contact, 3 contact), bit 2 (4) set where energy was sent. */
	flags: v.instance(Uint8Array),
	rrCount: v.instance(Uint8Array),
	/** RR intervals in 1/1024 s, as the strap sends them, oldest first, of all packets one after another. */
	rr1024: v.instance(Uint16Array),
	/** The energy values of the packets that had one, kJ since the strap's reset. */
	energyKJ: v.instance(Uint16Array)
});

/**
 * The readings as columns, one entry a packet, in order of arrival. RR intervals of all packets follow one
 * another in `rr1024`; `rrCount` says how many belong to each. An hour with every RR interval stays under
 * 40 kB.
 */
export type RecordBody = v.InferOutput<typeof columnsSchema>;

export interface SessionRecord {
	head: RecordHead;
	body: RecordBody;
}

const contactBits = 3;

const energyBit = 4;

/** Why a body's columns cannot belong together, or undefined where they do. */
function inconsistency(body: RecordBody): string | undefined {
	const count = body.stepMs.length;
	for (const column of ['bpm', 'flags', 'rrCount'] as const)
		if (body[column].length !== count)
			return `${column} has ${body[column].length} entries where stepMs has ${count}`;
	if (count > 0 && body.stepMs[0] !== 0) return 'the first entry of stepMs is not 0';
	if (body.flags.some((flags) => (flags & contactBits) === 0 || flags > (contactBits | energyBit)))
		return 'flags has an unknown value';
	const rrTotal = body.rrCount.reduce((sum, n) => sum + n, 0);
	if (rrTotal !== body.rr1024.length)
		return `rr1024 has ${body.rr1024.length} entries where rrCount promises ${rrTotal}`;
	const energyTotal = body.flags.reduce((sum, flags) => sum + (flags & energyBit ? 1 : 0), 0);
	if (energyTotal !== body.energyKJ.length)
		return `energyKJ has ${body.energyKJ.length} entries where flags promises ${energyTotal}`;
	return undefined;
}

export const recordBodySchema = v.pipe(
	columnsSchema,
	v.rawCheck(({ dataset, addIssue }) => {
		const message = dataset.typed ? inconsistency(dataset.value) : undefined;
		if (message) addIssue({ message });
	})
);
