import type { PlacePage } from './places';

export const settingsPages: readonly PlacePage[] = [
	{ href: '/settings/', name: 'General' },
	{ href: '/settings/backup/', name: 'Backup' },
	{ href: '/settings/folder/', name: 'Shared folder' },
	{ href: '/settings/import/', name: 'Import' }
];

export const helpPages: readonly PlacePage[] = [
	{ href: '/help/', name: 'First help' },
	{ href: '/help/methods/', name: 'Methods and sources' }
];

export const squadPages: readonly PlacePage[] = [
	{ href: '/squad/', name: 'Register' },
	{ href: '/squad/week/', name: 'Week' },
	{ href: '/squad/board/', name: 'Board' }
];

const athletePages: readonly PlacePage[] = [
	{ href: '/athletes/', name: 'Overview' },
	{ href: '/athletes/progress/', name: 'Progress' },
	{ href: '/athletes/tests/', name: 'Tests' },
	{ href: '/athletes/weight/', name: 'Weight' },
	{ href: '/athletes/camp/', name: 'Camp' },
	{ href: '/athletes/details/', name: 'Details' }
];

/** The pages of one athlete; Weight is none where weight and food are hidden for them. */
export const athletePagesOf = (hidesWeight: boolean) =>
	hidesWeight ? athletePages.filter(({ name }) => name !== 'Weight') : athletePages;
