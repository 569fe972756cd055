import { expect, test } from '../fixtures';
import { killAgainAndAgain } from '../kill-run';

test('a browser killed in mid-session, and at the finish, leaves all but the last second to the next visit', async ({
	baseURL
}) => {
	const { faults, left, ...figures } = await killAgainAndAgain({
		address: `${baseURL}/`,
		kills: 3,
		finishKills: 2,
		livesS: [2.5, 5],
		seed: 1
	});

	expect(faults).toEqual([]);
	expect(figures).toMatchObject({ kills: 5, lost: 0, doubled: 0, unreadable: 0 });
	expect(figures.packets).toBeGreaterThan(10);
	expect(left.journal + left.record).toBe(2);
});
