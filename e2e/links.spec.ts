import { expect, test } from './fixtures';
import { packet } from './packets';
import { Squad } from './squad';

test('a strap that fails beside two others says how many are connected; lost together, they come back one by one', async ({
	radio,
	corner
}) => {
	const [red, blue, green] = [
		await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Chest strap red' }),
		await radio.addStrap({ address: '02:00:00:00:00:72', name: 'Chest strap blue' }),
		await radio.addStrap({ address: '02:00:00:00:00:73', name: 'Chest strap green' })
	];
	const straps = [red, blue, green];
	const squad = new Squad(corner, radio);
	const pairThird = async () => {
		const answered = radio.choose(green);
		await squad.place(3).getByRole('button', { name: 'Pair strap' }).click();
		await answered;
	};
	await corner.open();
	await corner.answer('skip');
	await corner.plan({ Rounds: 1, 'Round, seconds': 120, 'Get ready, seconds': 0 });
	await squad.add(2, 'Odalys');
	await squad.add(3, 'Tomas');
	await squad.pair(1, red);

	await test.step('one other strap is no reason to speak of a limit, two are', async () => {
		const refused = squad.place(3).getByRole('alert');
		green.refuse(3);
		await pairThird();
		await expect(refused).toContainText('The strap did not answer.');
		await expect(refused).not.toContainText('about seven');
		await squad.pair(2, blue);
		await expect(refused).toContainText('2 straps are connected');
		await expect(refused).toContainText('If it fails again, disconnect one.');
		await squad.place(2).getByRole('button', { name: 'Disconnect' }).click();
		await expect(refused).not.toContainText('about seven');
	});
	await squad.pair(2, blue);
	await pairThird();
	await expect(squad.place(3)).toContainText('Chest strap green');
	await expect(squad.place(3).getByRole('alert')).toHaveCount(0);

	await corner.start();
	for (const strap of straps) strap.stream(() => packet({ bpm: 120 }));
	for (const number of [1, 2, 3]) await expect(squad.reading(number, 'Heart rate')).toHaveText('120');
	const before = straps.map(({ attempts }) => attempts);
	for (const strap of straps) strap.answersAfterMs = 1500;
	for (const strap of straps) await strap.drop();
	for (const number of [1, 2, 3]) await expect(squad.lane(number)).toContainText('signal lost');
	for (const number of [1, 2, 3]) await expect(squad.reading(number, 'Heart rate')).toHaveText('120');
	expect(straps.map(({ attempts }, i) => attempts - before[i]!)).toEqual([1, 1, 1]);
	expect(radio.mostConnecting, 'connections under way at once').toBe(1);
});
