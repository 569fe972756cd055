import * as v from 'valibot';
import { recordVersion, type RecordBody } from './record';
import { shape } from './record-schema';

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
	shape<RecordBody>({
		version: v.literal(recordVersion),
		firstMs: v.pipe(v.number(), v.safeInteger()),
		stepMs: v.union([v.instance(Uint16Array), v.instance(Uint32Array)]),
		bpm: v.union([v.instance(Uint8Array), v.instance(Uint16Array)]),
		flags: v.instance(Uint8Array),
		rrCount: v.instance(Uint8Array),
		rr1024: v.instance(Uint16Array),
		energyKJ: v.instance(Uint16Array)
	}),
	v.rawCheck(({ dataset, addIssue }) => {
		const message = dataset.typed ? inconsistency(dataset.value) : undefined;
		if (message) addIssue({ message });
	})
);
