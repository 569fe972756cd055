import { describe, expect, it } from 'vitest';
import { beatFaultsOf, type BeatFault } from '$lib/physiology/beat-faults';

const even = (count: number) => Array<number>(count).fill(800);

/** The faults found in some beats that stand among even ones of 800 ms, and that there are none around them. */
function among(...beats: number[]): (BeatFault | undefined)[] {
	const faults = beatFaultsOf([...even(30), ...beats, ...even(30)]);
	expect([...faults.slice(0, 30), ...faults.slice(-30)].filter(Boolean)).toEqual([]);
	return faults.slice(30, -30);
}

// Among even beats the quartiles are nothing, so that both thresholds are the least there are: 3 % of 800, 24 ms.
describe('among even beats of 800 ms', () => {
	it('a beat was missed where half an interval fits, and only there', () => {
		expect(among(1600)).toEqual(['missed']);
		expect(among(1646)).toEqual(['missed']);
		expect(among(1554)).toEqual(['missed']);
		expect(among(1650)).toEqual(['long or short']);
		expect(among(1550)).toEqual(['long or short']);
	});

	it('a beat is extra where an interval and the next together fit', () => {
		expect(among(300, 500)).toEqual(['extra', 'long or short']);
		expect(among(300, 520)).toEqual(['extra', 'long or short']);
		expect(among(300, 530)).toEqual(['long or short', 'long or short']);
	});

	it('an ectopic beat is the one whose two neighbours point the other way', () => {
		// Changes of -200, 400 and -200: the first has but one neighbour that does.
		expect(among(600, 1000)).toEqual(['long or short', 'ectopic']);
		expect(among(1000, 600)).toEqual(['long or short', 'ectopic']);
	});

	it('one interval is long or short from over 24 ms on', () => {
		expect(among(824)).toEqual([undefined]);
		expect(among(825)).toEqual(['long or short']);
		expect(among(776)).toEqual([undefined]);
		expect(among(775)).toEqual(['long or short']);
	});

	it('a change that is not answered is a fault from over 72 ms on, downwards from over 36', () => {
		// Three at once are not what the median goes by; the two that follow the first differ by nothing from it.
		expect(among(872, 872, 872)).toEqual([undefined, undefined, undefined]);
		expect(among(873, 873, 873)).toEqual(['long or short', undefined, undefined]);
		expect(among(764, 764, 764)).toEqual([undefined, undefined, undefined]);
		expect(among(763, 763, 763)).toEqual(['long or short', undefined, undefined]);
	});

	it('a new level that stays is none', () => {
		const faults = beatFaultsOf([...even(30), ...Array<number>(30).fill(1000)]);
		expect(faults.filter(Boolean)).toEqual([]);
	});

	it('the first and the last beats are judged too', () => {
		expect(beatFaultsOf([1600, ...even(20)])[0]).toBe('missed');
		expect(beatFaultsOf([...even(20), 1600])[20]).toBe('missed');
		expect(beatFaultsOf([300, 500, ...even(20)])[0]).toBe('extra');
		// There is no next one to be joined with.
		expect(beatFaultsOf([...even(20), 300])[20]).toBe('long or short');
		expect(beatFaultsOf([])).toEqual([]);
		expect(beatFaultsOf([800])).toEqual([undefined]);
	});
});
