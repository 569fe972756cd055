import type { ReportedSession } from './reported-session';
import { thresholdWords } from './threshold-words';
import { beats } from './beats';
import { meanDropOf } from './mean-words';
import { clockWords } from './clock-words';

/** A figure of a report, with what stands under it. */
export interface ReportFigure {
	name: string;
	value: string;
	more: string;
}

/** The figures that lead a report. What is not known is not among them. */
export function reportFigures({ head, edit, summary, run }: ReportedSession): ReportFigure[] {
	const { guided, meanDrop60, overS, workS, peakBpm } = summary;
	const bpm = (name: string, value: number | undefined, more: string) =>
		value === undefined ? [] : [{ name, value: `${beats(value)}`, more }];
	const effort =
		edit.effort === undefined ? [] : [{ name: 'Effort', value: `${edit.effort}`, more: 'of 10' }];
	if (guided?.kind === 'resting')
		return [
			...bpm('Resting rate', guided.restBpm, `lowest minute, ${guided.posture ?? 'posture unknown'}`),
			...(guided.rmssdMs === undefined
				? []
				: [{ name: 'Beat-to-beat change', value: guided.rmssdMs.toFixed(0), more: 'ms' }])
		];
	if (guided?.kind === 'threshold run')
		return [
			...bpm('Mean of the 20 minutes', run?.meanBpm, 'beats a minute'),
			...bpm('That mean less 5 %', run?.bpm, 'beats a minute'),
			...(run ? [{ name: 'Confidence', value: run.confidence, more: '' }] : []),
			...effort
		];
	return [
		...(guided?.tauS === undefined
			? []
			: [{ name: 'Recovery speed', value: `${Math.round(guided.tauS)} s`, more: 'shorter is faster' }]),
		...bpm('1-minute drop', meanDrop60, `beats, ${meanDropOf(summary)}`),
		...(overS === undefined
			? []
			: [
					{
						name: 'Over threshold',
						value: clockWords(overS * 1000),
						more: `of ${clockWords(workS * 1000)}; threshold ${thresholdWords(head.athlete)}`
					}
				]),
		...bpm('Peak', peakBpm, 'beats a minute'),
		...effort
	];
}
