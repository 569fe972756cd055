import type { StrapChange } from '$lib/record/head';
import { spansOf, wornIn } from '$lib/record/worn';
import { describe, expect, it } from 'vitest';

const at = (ms: number, handOver?: StrapChange['handOver']): StrapChange => ({
	ms,
	strapName: 'Red',
	practice: false,
	...(handOver && { handOver })
});

describe('when somebody had a strap on', () => {
	it('is all the time where none changed hands, from when they joined', () => {
		expect(wornIn({})).toEqual([{ fromMs: -Infinity, toMs: Infinity }]);
		expect(wornIn({ joinedMs: 5000, strapChanges: [at(9000)] })).toEqual([{ fromMs: 5000, toMs: Infinity }]);
	});

	it('begins where it is put on, for whoever had none before, and ends where it is given away', () => {
		expect(wornIn({ strapChanges: [at(3000), at(9000, 'put on')] })).toEqual([
			{ fromMs: 9000, toMs: Infinity }
		]);
		expect(wornIn({ strapChanges: [at(9000, 'given away')] })).toEqual([{ fromMs: -Infinity, toMs: 9000 }]);
		expect(
			wornIn({ strapChanges: [at(1000, 'given away'), at(5000, 'put on'), at(7000, 'given away')] })
		).toEqual([
			{ fromMs: -Infinity, toMs: 1000 },
			{ fromMs: 5000, toMs: 7000 }
		]);
	});

	it('is never where none was put on, whatever is given away', () => {
		expect(spansOf(0, true, [at(9000, 'given away')])).toEqual([]);
	});
});
