import { paperDayWords } from './day-words';
import type { Usual } from '$lib/physiology/usual';
import type { RecordHead } from '$lib/record/head';
import type { RoundSummary, Summary } from '$lib/record/summary';
import { chiefWork, hasJudgedDrop } from './drops-by-activity';
import { doneWords } from './progress';
import type { ReportedSession } from './reported-session';
import { readsLowWords } from './run-words';
import { thresholdWords } from './threshold-words';
import { againstUsual } from './usual-words';
import { beats } from './beats';
import { dropWords } from './words';
import { clockWords } from './clock-words';

/** Whom a report is written for. The words change with it, the numbers never do. */
export const readers = ['the athlete', 'a parent', 'a doctor', 'another coach'] as const;
export type Reader = (typeof readers)[number];

export interface ReportSection {
	title: string;
	lines: string[];
}

/** The sections of a report, in words for its reader. */
export function reportSections(reader: Reader, report: ReportedSession): ReportSection[] {
	return [
		{ title: 'What was done', lines: [...doneLines(reader, report), ...measuredLines(reader, report)] },
		{
			title: reader === 'the athlete' ? 'Against your own usual' : 'Against the own usual',
			lines: usualLines(report)
		},
		{ title: 'What it cannot say', lines: limitLines(reader, report) },
		{ title: 'Restrictions', lines: [restrictionLine(report)] },
		{ title: 'Next step', lines: nextLines(reader, report) }
	].filter(({ lines }) => lines.length > 0);
}

/** How the athlete is named, and the beginning of a sentence about what is theirs. */
const nameFor = (reader: Reader, { head }: ReportedSession) =>
	reader === 'the athlete' ? 'You' : head.athlete.name;

function doneLines(reader: Reader, report: ReportedSession): string[] {
	const { head, edit, summary } = report;
	const who = nameFor(reader, report);
	const { kind, posture } = head.plan;
	const count = summary.rounds.length;
	const work = clockWords(summary.workS * 1000);
	const rounds = `${count} ${count === 1 ? 'round' : 'rounds'}, ${work} of work`;
	const did =
		kind === 'threshold run'
			? `${who} ran for the threshold: ${work}, with the pace raised step by step.`
			: kind === 'resting'
				? `${who} rested quietly, ${posture ?? 'posture not noted'}, and the heart rate was read.`
				: kind === 'recovery check'
					? `${who} did the recovery check, which is the same each time: ${rounds}, then sat or stood still.`
					: `${who} trained: ${doneWords({ head, edit, summary })}, ${rounds}.`;
	const { effort } = edit;
	if (effort === undefined) return [did];
	return [
		did,
		reader === 'the athlete'
			? `You called the effort ${effort} of 10.`
			: `Effort, as the athlete felt it: ${effort} of 10.`
	];
}

function measuredLines(reader: Reader, { head, summary, run }: ReportedSession): string[] {
	const { guided } = summary;
	if (guided?.kind === 'resting')
		return guided.restBpm === undefined
			? guided.reasons
			: [
					`${reader === 'a doctor' ? 'Resting heart rate, lowest minute' : 'Resting rate'}: ${beats(guided.restBpm)} beats a minute.`
				];
	if (guided?.kind === 'threshold run')
		return run?.meanBpm === undefined || run.bpm === undefined
			? guided.reasons
			: [
					`${runName[reader]}: ${beats(run.meanBpm)} beats a minute as the mean of the run, ${beats(run.bpm)} less 5 %.`,
					...run.reasons
				];
	const lines: string[] = [];
	if (guided?.tauS !== undefined)
		lines.push(`${tauName[reader]}: ${Math.round(guided.tauS)} s. Shorter is faster.`);
	lines.push(dropLine(reader, summary));
	if (summary.overS !== undefined)
		lines.push(
			`${clockWords(summary.overS * 1000)} of ${clockWords(summary.workS * 1000)} of work was ${overName[reader]} (${thresholdWords(head.athlete)}).`
		);
	if (summary.peakBpm !== undefined) lines.push(`Highest rate: ${beats(summary.peakBpm)} beats a minute.`);
	return lines;
}

const runName: Record<Reader, string> = {
	'the athlete': 'Your threshold by this run',
	'a parent': 'The rate that can be held for long',
	'a doctor': 'Estimate of the threshold heart rate, without gas exchange or lactate',
	'another coach': 'Threshold by the run'
};
const tauName: Record<Reader, string> = {
	'the athlete': 'How fast your heart came down',
	'a parent': 'How fast the heart came down',
	'a doctor': 'Time constant of one exponential fitted to the heart-rate recovery',
	'another coach': 'Recovery speed'
};
const overName: Record<Reader, string> = {
	'the athlete': 'over your threshold',
	'a parent': 'above the rate that can be held for long',
	'a doctor': 'above the threshold heart rate',
	'another coach': 'over threshold'
};
const dropName: Record<Reader, string> = {
	'the athlete': 'In the minute after each round your heart rate fell by',
	'a parent': 'In the minute after each round the heart rate fell by',
	'a doctor': 'Heart-rate recovery in the first minute after each round, beats',
	'another coach': '1-minute drops'
};

function dropLine(reader: Reader, { rounds, fade }: Summary): string {
	const drops = rounds.flatMap(({ rest }) => (rest?.drop60 === undefined ? [] : [dropWords(rest.drop60)]));
	if (drops.length === 0) return 'No drop could be measured: no rest of a full minute with a clean signal.';
	const isListed = reader === 'a doctor' || reader === 'another coach';
	const list = `${dropName[reader]}${isListed ? ':' : ''} ${drops.join(', ')}${isListed ? '' : ' beats'}`;
	return fade ? `${list}. Round by round: ${fade.trend}.` : `${list}.`;
}

function usualLines({ head, summary, usual, previousCheck }: ReportedSession): string[] {
	const { kind } = head.plan;
	if (kind === 'threshold run') {
		const before = thresholdWords(head.athlete);
		return [before ? `The threshold before this run: ${before}.` : 'No threshold was known before this run.'];
	}
	if (kind === 'resting') {
		const { restBpm } = head.athlete;
		return [
			restBpm === undefined
				? 'No resting rate was known before.'
				: `The resting rate before: ${beats(restBpm)}.`
		];
	}
	const lines = previousCheck
		? [
				`The check before, ${paperDayWords(previousCheck.startedAt, previousCheck.zone)}: ${previousCheck.tauS} s. ${previousCheck.words}`
			]
		: [];
	if (!usual) return [...lines, 'The usual drop is not known yet: it takes five like sessions.'];
	const compared = comparedDrops(summary.rounds);
	const said = (['more than usual', 'as usual', 'less than usual'] as const).flatMap((words) => {
		const drops = compared.filter((drop) => againstUsual(drop, usual) === words).map(beats);
		return drops.length > 0 ? [`${drops.join(', ')} ${words}`] : [];
	});
	const [middle, low, high] = [usual.middle, usual.low, usual.high].map(beats);
	const range = `Usual drop: ${middle}, mostly ${low} to ${high}, from ${usual.sessionCount} like sessions.`;
	return [...lines, said.length > 0 ? `${range} This time: ${said.join('; ')}.` : range];
}

/** The drops that are set against the usual: those of the work that it is of, where they are judged. */
function comparedDrops(rounds: readonly RoundSummary[]): number[] {
	return chiefWork(rounds).rounds.flatMap(({ rest }) => (hasJudgedDrop(rest) ? [rest.drop60] : []));
}

function limitLines(reader: Reader, { head, summary, run }: ReportedSession): string[] {
	const lines = head.practice ? ['These readings are simulated: they say nothing about a person.'] : [];
	lines.push(...summary.unusual);
	if (summary.guided?.kind === 'threshold run') lines.push(readsLowWords(run ?? {}));
	else if (summary.guided?.kind === 'resting')
		lines.push(
			'Short sleep, illness, heat, coffee, alcohol and the training of the day before all move a resting rate.'
		);
	else {
		lines.push(
			'A single drop is uncertain by about 20 %. It does not say why it is large or small: sleep, heat, illness, drink and a loose strap all count.'
		);
		if (summary.overS === undefined)
			lines.push('No threshold was known, so nothing is said of time over it.');
	}
	if (reader === 'a doctor')
		lines.push(
			'Rates are those of a chest strap, smoothed by it. There is no ECG, and rhythm is not judged.'
		);
	if (reader === 'a parent') lines.push('It is no medical finding, and no mark for effort or talent.');
	return lines;
}

function restrictionLine({ restriction }: ReportedSession): string {
	if (!restriction) return 'None noted.';
	const { atLeastUntil } = restriction;
	return atLeastUntil === undefined
		? 'Restricted, and no day ends it.'
		: `Restricted, at least until ${paperDayWords(`${atLeastUntil}T12:00:00`)}.`;
}

function nextLines(reader: Reader, { head, summary, usual }: ReportedSession): string[] {
	const ask: Record<Reader, string[]> = {
		'the athlete': [],
		'a parent': ['Talk with the coach before anything is changed.'],
		'a doctor': ['Medical advice on training comes before this page.'],
		'another coach': []
	};
	return [nextStep(head, summary, usual), ...ask[reader]];
}

function nextStep(
	{ practice, athlete }: RecordHead,
	{ guided, rounds, fade, overS }: Summary,
	usual?: Usual
): string {
	const compared = comparedDrops(rounds);
	if (guided?.kind === 'threshold run')
		return 'Keep one of the two readings as the threshold, and repeat the run when the training has changed.';
	if (guided?.kind === 'resting')
		return 'Measure on other mornings in the same posture, and go by the mean of a week.';
	if (!rounds.some(({ rest }) => rest?.drop60 !== undefined))
		return 'Wet the strap, seat it firmly and measure a full minute of rest.';
	if (fade?.trend === 'fading')
		return 'The drops became smaller from round to round: think about longer rests or easier rounds before more work is added.';
	const isLess = (drop: number) => usual && againstUsual(drop, usual) === 'less than usual';
	if (compared.length > 0 && compared.every(isLess))
		return 'Every drop that could be compared was less than usual: ask about sleep, heat and illness before the next hard session.';
	if (guided) return 'Repeat the check in the same way, at the same time of day.';
	if (overS === undefined && athlete.thresholdBpm === undefined && !practice)
		return 'Find the threshold with a threshold run, so that hard and easy work can be told apart.';
	return 'Repeat the session in like conditions and compare.';
}
