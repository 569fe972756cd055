import type { Amendment } from '$lib/rounds/amendment';

export type LiveAct =
	Amendment['kind'] | 'mark' | 'discard' | 'full screen' | 'keys' | 'corners' | 'enlarge' | 'pair' | 'wake';

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
export const liveKeys: readonly LiveKey[] = [
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
	{ act: 'mark', keys: ['m'], shown: 'M', words: 'Mark this moment' },
	{ act: 'corners', keys: ['c'], shown: 'C', words: 'Corners: who joins, who leaves' },
	{
		act: 'enlarge',
		keys: ['0', '1', '2', '3', '4', '5', '6', '7', '8'],
		shown: '1 to 8, 0',
		words: 'With several corners: enlarge one, and show all again'
	},
	{ act: 'pair', keys: ['p'], shown: 'P', words: 'Pair the strap again, where it is missing' },
	{ act: 'wake', keys: ['b'], shown: 'B', words: 'Wake the bell, where it is not heard' },
	{ act: 'full screen', keys: ['f'], shown: 'F', words: 'Full screen' },
	{ act: 'keys', keys: ['?'], shown: '?', words: 'This sheet' },
	{ act: 'finish', keys: ['q'], shown: 'Q, held for a second', words: 'Finish', isHeld: true },
	{
		act: 'discard',
		keys: ['d'],
		shown: 'D, held for a second',
		words: 'False start: discard (until 15 s into round 1)',
		isHeld: true
	}
];

export function keyFor(event: Pick<KeyboardEvent, 'key'>): LiveKey | undefined {
	const pressed = event.key.toLowerCase();
	return liveKeys.find(({ keys }) => keys.includes(pressed));
}
