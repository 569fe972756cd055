/** The pictures of progress in their order: measure, title, unit in words, digits behind the point. */
export const progressPictures = [
	['drop at 60', 'Drop at 60', 'beats in the minute, mean of the judged rests of a session', 0],
	[
		'rate at 60',
		'Rate after one minute',
		'% of the threshold, in the same rests; lower means a faster recovery',
		0
	],
	['tau', 'Tau', 'seconds, from recovery checks; shorter is faster', 0],
	['threshold', 'Threshold', 'beats a minute, from threshold runs', 1],
	['resting rate', 'Resting rate', 'beats a minute', 1],
	['RMSSD', 'RMSSD', 'ms, at rest', 0],
	['weight', 'Weight', 'one a day, as entered or noted with a session', 1]
] as const;
