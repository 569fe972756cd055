// Where things are: four places and two quiet ones. Every route belongs to one of them, so that a reader always sees
// where they stand and no page hangs on one odd link.

/** The routes of each place; what lies under one belongs to it. */
const placePaths = {
	Train: ['/', '/plans', '/tests', '/live'],
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

export const trainPages: readonly PlacePage[] = [
	{ href: '/', name: 'Rounds' },
	{ href: '/plans/', name: 'Plans' },
	{ href: '/tests/', name: 'Tests' }
];
