import { expect, it } from 'vitest';
import { withMember, withoutMembers } from '$lib/record/card-members';

const nerea = { id: 'a', name: 'Nerea', weightKg: 60, heightCm: 170 };

it('a card has a member, another value of it, or none', () => {
	expect(withMember(nerea, 'weightKg', 61)).toEqual({ ...nerea, weightKg: 61 });
	expect(withMember(nerea, 'restBpm', 50)).toEqual({ ...nerea, restBpm: 50 });
	expect(Object.keys(withMember(nerea, 'weightKg', undefined))).toEqual(['id', 'name', 'heightCm']);
	expect(withoutMembers(nerea, 'weightKg', 'heightCm', 'restBpm')).toEqual({ id: 'a', name: 'Nerea' });
	expect(nerea.weightKg).toBe(60);
});
