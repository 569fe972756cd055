import { judgedAtS, windowS } from '$lib/physiology/rest-taken';
import type { SessionRecord } from '$lib/record/body';
import type { RoundSummary, Summary } from '$lib/record/summary';
import { momentAt } from './moment-at';
import { nameUuid } from './name-uuid';

// Our own space of names, made once by chance.
const space = '7d0f2c7e-5d55-4c1c-9c3a-0f6a4f1f5b27';

/** One heart rate that a session came to, or the reason why there is none. */
interface Rate {
	/** Tells it from the others of its session. */
	part: string;
	words: string;
	fromMs: number;
	toMs: number;
	bpm?: number;
	reason: string;
	note?: string;
}

/**
 * A session as HL7 FHIR R4: a Bundle of type collection with a Patient and one Observation a round and one a guided
 * measurement, each after the profile of heart rate (http://hl7.org/fhir/R4/heartrate.html). What was not measured
 * has the reason and no number. The patient is the athlete's name and nothing else. Written anew its entries bear the
 * same identifiers, so that whoever takes it in twice can tell.
 *
 * @param record as it was put right; one that is simulated belongs in no such system
 * @param name of the athlete by now
 * @param madeAt moment of the export, ISO 8601
 */
export async function fhirText(
	{ head }: SessionRecord,
	summary: Summary,
	name: string,
	madeAt: string
): Promise<string> {
	const urn = async (part: string) => `urn:uuid:${await nameUuid(space, part)}`;
	const patient = await urn(`athlete/${head.athlete.athleteId}`);
	const observations = await Promise.all(
		ratesOf(head, summary).map(async (rate) => {
			const fullUrl = await urn(`session/${head.id}/${rate.part}`);
			return { fullUrl, resource: observation(head, rate, patient, fullUrl) };
		})
	);
	const bundle = {
		resourceType: 'Bundle',
		type: 'collection',
		timestamp: madeAt,
		entry: [{ fullUrl: patient, resource: { resourceType: 'Patient', name: [named(name)] } }, ...observations]
	};
	return `${JSON.stringify(bundle, undefined, '\t')}\n`;
}

const named = (name: string) =>
	name.trim() ? { text: name.trim() } : { extension: [{ url: absence, valueCode: 'unknown' }] };
const absence = 'http://hl7.org/fhir/StructureDefinition/data-absent-reason';

const coded = (system: string, code: string, display: string) => ({ coding: [{ system, code, display }] });

function observation(
	head: SessionRecord['head'],
	{ words, fromMs, toMs, bpm, reason, note }: Rate,
	patient: string,
	urn: string
) {
	return {
		resourceType: 'Observation',
		meta: { profile: ['http://hl7.org/fhir/StructureDefinition/heartrate'] },
		identifier: [{ system: 'urn:ietf:rfc:3986', value: urn }],
		status: 'final',
		category: [
			coded('http://terminology.hl7.org/CodeSystem/observation-category', 'vital-signs', 'Vital Signs')
		],
		code: { ...coded('http://loinc.org', '8867-4', 'Heart rate'), text: words },
		subject: { reference: patient },
		effectivePeriod: { start: momentAt(head, fromMs), end: momentAt(head, toMs) },
		...(bpm === undefined
			? {
					dataAbsentReason: {
						...coded('http://terminology.hl7.org/CodeSystem/data-absent-reason', 'unknown', 'Unknown'),
						text: reason
					}
				}
			: {
					valueQuantity: {
						value: Math.round(bpm * 10) / 10,
						unit: 'beats/minute',
						system: 'http://unitsofmeasure.org',
						code: '/min'
					}
				}),
		...(note && { note: [{ text: note }] }),
		method: { text: 'Chest strap worn in training; mean of the rates of single seconds' }
	};
}

function ratesOf(head: SessionRecord['head'], summary: Summary): Rate[] {
	const { kind } = head.plan;
	const rounds = summary.rounds.map((round, i) => ofRound(head, round, i));
	const test = ofTest(head, summary);
	// A run and quiet minutes are one stretch: what they come to is all there is to tell of it.
	if (kind === 'threshold run' || kind === 'resting') return test ? [test] : [];
	return test ? [...rounds, test] : rounds;
}

function ofRound({ plan }: SessionRecord['head'], one: RoundSummary, i: number): Rate {
	const { round, attempt, activity = plan.activity, averageBpm, startMs, endMs, coverage } = one;
	return {
		part: `work-${i + 1}`,
		words: `Mean heart rate of round ${round}${attempt > 1 ? `, attempt ${attempt}` : ''}, ${activity}`,
		fromMs: startMs,
		toMs: endMs,
		bpm: averageBpm,
		reason: 'No usable reading came in this round.',
		...(coverage !== undefined &&
			averageBpm !== undefined && { note: `${Math.round(coverage * 100)} % of its seconds were measured.` })
	};
}

function ofTest({ plan }: SessionRecord['head'], { guided, rounds }: Summary): Rate | undefined {
	const last = rounds.at(-1);
	if (!guided || !last) return undefined;
	const whole = { part: 'test', fromMs: last.startMs, toMs: last.endMs };
	const reason = guided.reasons[0] ?? 'It could not be measured.';
	switch (guided.kind) {
		case 'threshold run': {
			const note =
				guided.thresholdBpm === undefined
					? undefined
					: `Threshold by common practice, no source (this mean less 5 %): ${Math.round(guided.thresholdBpm)} beats a minute.`;
			return {
				...whole,
				words: 'Mean heart rate of a 20-minute threshold run',
				bpm: guided.meanBpm,
				reason,
				note
			};
		}
		case 'resting':
			return {
				...whole,
				words: `Resting heart rate${plan.posture ? `, ${plan.posture}` : ''}: lowest minute of five quiet ones`,
				bpm: guided.restBpm,
				reason
			};
		case 'recovery check': {
			const rest = rounds.findLast((one) => one.rest?.kind === 'closing')?.rest;
			if (!rest) return undefined;
			return {
				part: 'test',
				words: 'Heart rate one minute after the last bell of a recovery check',
				fromMs: rest.startMs + (judgedAtS - windowS) * 1000,
				toMs: rest.startMs + judgedAtS * 1000,
				bpm: rest.rate60,
				reason: rest.reason ?? reason,
				...(rest.drop60 !== undefined && {
					note: `It ${rest.drop60 < 0 ? 'rose' : 'fell'} by ${Math.round(Math.abs(rest.drop60))} beats in that minute.`
				})
			};
		}
	}
}
