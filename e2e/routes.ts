/** The screens that open by their address alone, beside the first one. */
export const routes = [
	'athletes',
	'athletes/camp',
	'athletes/details',
	'athletes/progress',
	'athletes/tests',
	'athletes/weight',
	'help',
	'help/methods',
	'live',
	'plans',
	'review',
	'sessions',
	'settings',
	'settings/backup',
	'settings/folder',
	'settings/import',
	'squad',
	'squad/board',
	'squad/csv',
	'squad/week',
	'tests'
];
