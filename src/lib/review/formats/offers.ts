import type { SessionRecord } from '$lib/record/body';
import type { Summary } from '$lib/record/summary';

export const fileForms = ['csv', 'json', 'rr', 'fhir', 'open-mhealth'] as const;
export type FileForm = (typeof fileForms)[number];

/** A file in which a session can be had. */
export interface FileOffer {
	form: FileForm;
	/** As its button says it. */
	name: string;
	/** For whom it is, a sentence. */
	forWhom: string;
	/** What stands in it, a sentence. */
	holds: string;
	/** Why there is none of this session, in a sentence. */
	whyNot?: string;
}

// Over nine hours at 180 a minute. Each takes some 400 characters, and a text has its limit.
const mostBeats = 100_000;

/**
 * The files in which a session can be had, the everyday one first.
 *
 * @param summary absent where the session could not be measured
 */
export function fileOffers({ head, body }: SessionRecord, summary: Summary | undefined): FileOffer[] {
	const notMeasured = summary
		? undefined
		: 'This session is not measured, so there are no rounds to tell of.';
	return [
		{
			form: 'csv',
			name: 'CSV',
			forWhom: 'For a spreadsheet.',
			holds: 'Every reading in a row, with its round and rest. The name stands in the file’s name alone.'
		},
		{
			form: 'json',
			name: 'JSON',
			forWhom: 'For this page on another computer, or to keep.',
			holds: 'The whole session, with the name, the athlete’s numbers of that day, note and effort.'
		},
		{
			form: 'rr',
			name: 'RR text',
			forWhom: 'For programs that look at the time from beat to beat.',
			holds: 'One RR interval in milliseconds a line. No name, no times of day.',
			...(body.rr1024.length === 0 && { whyNot: 'The strap sent no RR intervals.' })
		},
		{
			form: 'fhir',
			name: 'FHIR',
			forWhom: 'For a doctor’s system (HL7 FHIR R4).',
			holds:
				'The name, and the mean heart rate of each round or test, with its time. A round without a usable reading has the reason and no number.',
			...optional(
				head.practice
					? 'This session is simulated. No heart was measured, so it does not belong in a doctor’s system.'
					: (notMeasured ?? (summary?.rounds.length === 0 ? 'No round was boxed.' : undefined))
			)
		},
		{
			form: 'open-mhealth',
			name: 'Open mHealth',
			forWhom: 'For a study, or a program that reads Open mHealth.',
			holds: 'The mean and highest heart rate of each round, and each beat, with its time. No name.',
			...optional(
				body.rr1024.length > mostBeats
					? `It has more than ${mostBeats.toLocaleString('en')} beats, too many for a file of this form.`
					: notMeasured
			)
		}
	];
}

const optional = (whyNot: string | undefined) => (whyNot === undefined ? {} : { whyNot });
