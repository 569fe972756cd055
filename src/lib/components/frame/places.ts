// Where things are: four places and two quiet ones. Every route belongs to one of them, so that a reader always sees
// where they stand and no page hangs on one odd link.

/** Leads and parts of a place; the first path is where its link leads. */
const placePaths = {
	Train: ['/', '/tests', '/plans', '/live'],
	Sessions: ['/sessions', '/review', '/report'],
	Squad: ['/squad'],
	Athletes: ['/athletes'],
	Help: ['/help'],
	Settings: ['/settings']
} as const;

export type Place = keyof typeof placePaths;

/** The place that a route belongs to: `placeOf('/review')` is "Sessions". Undefined for what belongs to none. */
export function placeOf(routeId: string): Place | undefined {
	return (Object.keys(placePaths) as Place[]).find((place) =>
		placePaths[place].some((path) => routeId === path || (path !== '/' && routeId.startsWith(`${path}/`)))
	);
}

/** A page inside a place, as its own row of links shows it. */
export interface PlacePage {
	href: string;
	name: string;
}

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

export const trainPages: readonly PlacePage[] = [
	{ href: '/', name: 'Rounds' },
	{ href: '/tests/', name: 'Tests' }
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
