import type { Amendment } from '$lib/rounds/amendment';

export type LiveAct =
	| Exclude<Amendment['kind'], 'rest over'>
	| 'bell'
	| 'mark'
	| 'discard'
	| 'full screen'
	| 'ring-side'
	| 'ring-side here'
	| 'keys'
	| 'corners'
	| 'hand over'
	| 'undo hand over'
	| 'enlarge'
	| 'pair'
	| 'wake';

/** What is done once it has been held so long. */
export interface Holding {
	act: LiveAct;
	ms: number;
}

export interface LiveKey {
	act: LiveAct;
	/** Values of `KeyboardEvent.key`, letters in lower case. */
	keys: readonly string[];
	/** How the sheet shows them. */
	shown: string;
	words: string;
	/** Must be held for a second: an accidental key cannot end a session. */
	isHeld?: true;
}

/** A presenter's clicker sends page keys; its way back stops the clock, its way on goes on. */
const liveKeys: readonly LiveKey[] = [
	{ act: 'pause', keys: [' ', 'arrowleft', 'pageup'], shown: 'Space, ←, Page up', words: 'Pause and resume' },
	{
		act: 'next',
		keys: ['arrowright', 'arrowdown', 'pagedown'],
		shown: '→, ↓, Page down',
		words: 'Go on to the next phase'
	},
	{ act: 'stop round', keys: ['s'], shown: 'S', words: 'Stop this round now (a cut, a low blow)' },
	{ act: 'repeat round', keys: ['r'], shown: 'R', words: 'Box this round again' },
	{ act: 'add round', keys: ['a'], shown: 'A', words: 'One more round' },
	{ act: 'extend rest', keys: ['e'], shown: 'E', words: 'Rest 30 seconds longer' },
	{ act: 'mark', keys: ['m'], shown: 'M', words: 'Flag this moment' },
	{ act: 'corners', keys: ['c'], shown: 'C', words: 'Boxers: who joins, who leaves, who wears a strap' },
	{ act: 'hand over', keys: ['h'], shown: 'H', words: 'Hand over: the strap goes to whoever is next' },
	{ act: 'undo hand over', keys: ['u'], shown: 'U', words: 'Take the hand-over back, for 30 seconds' },
	{
		act: 'enlarge',
		keys: ['0', '1', '2', '3', '4', '5', '6', '7', '8'],
		shown: '1 to 8, 0',
		words: 'With several boxers: enlarge one, and show all again'
	},
	{ act: 'pair', keys: ['p'], shown: 'P', words: 'Pair the strap again, where it is missing' },
	{ act: 'wake', keys: ['b'], shown: 'B', words: 'Wake the bell, where it is not heard' },
	{ act: 'ring-side', keys: ['o'], shown: 'O', words: 'Open the ring-side screen in another window' },
	{ act: 'full screen', keys: ['f'], shown: 'F', words: 'Full screen' },
	{ act: 'keys', keys: ['?'], shown: '?', words: 'This sheet' },
	{ act: 'finish', keys: ['q'], shown: 'Q, held for a second', words: 'Finish', isHeld: true },
	{
		act: 'discard',
		keys: ['d'],
		shown: 'D, held for a second',
		words: 'Scrap it: nothing is saved (until 15 s into round 1)',
		isHeld: true
	}
];

/** What nobody can do where the gym's own bell rings. */
const planned: readonly LiveAct[] = ['pause', 'next', 'repeat round', 'add round', 'extend rest'];

/** To the gym's own bell: the easiest key and the clicker's way on are the bell. */
const bellKeys: readonly LiveKey[] = [
	{
		act: 'bell',
		keys: [' ', 'arrowright', 'arrowdown', 'pagedown'],
		shown: 'Space, →, ↓, Page down',
		words: 'At each bell of the hall: the round starts, the round ends'
	},
	{
		act: 'pause',
		keys: ['t', 'arrowleft', 'arrowup', 'pageup'],
		shown: 'T, ←, ↑, Page up',
		words: "The referee's stop, and time again"
	},
	...liveKeys.filter(({ act }) => !planned.includes(act))
];

/** The keys of a session, in the order of the sheet. */
export function keysOf(followsGymBell: boolean): readonly LiveKey[] {
	return followsGymBell ? bellKeys : liveKeys;
}

export function keyFor(event: Pick<KeyboardEvent, 'key'>, followsGymBell: boolean): LiveKey | undefined {
	const pressed = event.key.toLowerCase();
	return keysOf(followsGymBell).find(({ keys }) => keys.includes(pressed));
}
