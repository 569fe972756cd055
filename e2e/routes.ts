/** The screens that open by their address alone, beside the first one. */
export const routes = [
	'athletes',
	'backup',
	'fuel',
	'import',
	'live',
	'measure',
	'methods',
	'progress',
	'review',
	'sessions',
	'squad',
	'squad/board',
	'squad/csv',
	'squad/week'
];
