import { expect, test } from '../fixtures';
import { arrivalsOf, dropAt, packet, recoveryBpm } from '../packets';

const getReadyS = 3;
const roundS = 12;
const handOverS = 20;
/** The measured minute, and time for the strap. */
const restS = 60 + handOverS;
const bellOf = (round: number) => getReadyS + round * roundS + (round - 1) * restS;

/** Each round ends at 180, and the heart falls by the recovery of packets.ts until the next. */
function rateAt(elapsedS: number): number {
	const bells = [1, 2, 3].map(bellOf).filter((bellS) => bellS <= elapsedS);
	const sinceS = elapsedS - (bells.at(-1) ?? elapsedS);
	return sinceS > restS || bells.length === 0 ? 180 : Math.round(recoveryBpm(sinceS));
}

test('one strap goes round three boxers, and each record holds the packets of their turn and the drop to the beat', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Chest strap shared' });
	await corner.open(
		{ threshold: 170 },
		{
			Rounds: 2,
			'Round, seconds': roundS,
			'Rest, seconds': 60,
			'Get ready, seconds': getReadyS
		}
	);
	await page.getByRole('button', { name: 'Add a block' }).click();
	await page.getByRole('button', { name: /^2 / }).click();
	const second = page.getByRole('group', { name: 'Block 2', exact: true });
	await second.getByRole('combobox', { name: 'What is done' }).selectOption('bag');
	await second.getByRole('spinbutton', { name: 'Rounds' }).fill('1');
	await second.getByRole('spinbutton', { name: 'Pause before it, seconds' }).fill('60');
	await squad.add(2, 'Odalys');
	await squad.add(3, 'Tomas');
	await squad.add(4, 'Bao');
	await squad.pair(1, strap);
	for (const number of [2, 3, 4]) await squad.place(number).getByRole('button', { name: 'No strap' }).click();
	for (const number of [2, 3])
		await squad.place(number).getByRole('combobox', { name: 'Wears the strap of' }).selectOption('Me');

	await test.step('what is wrong with the turns is said at the boxer, and Start waits', async () => {
		const rounds = squad.place(3).getByRole('textbox', { name: 'in rounds' });
		await rounds.fill('2');
		await expect(squad.place(3)).toContainText(
			'Round 2 is Odalys’s already: one wears the strap in a round.'
		);
		await expect(corner.button('Start')).toBeDisabled();
		await rounds.fill('9');
		await expect(squad.place(3)).toContainText('The plan has 3 rounds: round 9 is none of them.');
		await rounds.fill('3');
	});
	await page.getByRole('spinbutton', { name: 'Time to hand over, seconds' }).fill('0');
	await expect(
		page.getByText(
			/^No time to hand over, so these drops are lost.*: Me after round 1, Odalys after round 2\.$/
		)
	).toBeVisible();
	await page.getByRole('spinbutton', { name: 'Time to hand over, seconds' }).fill(String(handOverS));

	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	strap.stream((second) => packet({ bpm: rateAt(fromS + second) }));
	const sent = () => arrivalsOf(strap.delivered, startMs);
	const handOver = page.getByRole('button', { name: 'Hand over', exact: true });

	await expect(corner.clock).toContainText('Rest after round 1');
	await expect(page.getByText(/^Strap to Odalys in 0:\d\d, after the measured minute$/)).toBeVisible();
	await expect(handOver).toBeHidden();
	await expect(page.getByText('Strap to Odalys', { exact: true })).toBeVisible({ timeout: 120_000 });
	await page.keyboard.press('h');
	await expect(page.getByText(/^Odalys wears it now/)).toBeVisible();
	await page.keyboard.press('u');
	await expect(page.getByText('Strap to Odalys', { exact: true })).toBeVisible();
	await handOver.click();
	await expect(page.getByText(/^Odalys wears it now/)).toBeVisible();

	await expect(page.getByText('Strap to Tomas', { exact: true })).toBeVisible({ timeout: 180_000 });
	await handOver.click({ timeout: 120_000 });
	await expect(page.getByText(/^Tomas wears it now/)).toBeVisible();
	await expect(corner.clock).toContainText('The last minute', { timeout: 120_000 });
	await corner.inReview(120_000);

	const kept = await corner.saved();
	expect(kept.map(({ head }) => head.athlete.name).sort()).toEqual(['Me', 'Odalys', 'Tomas']);
	const named = (name: string) => kept.find(({ head }) => head.athlete.name === name)!;
	const turns = ['Me', 'Odalys', 'Tomas'].map(named);
	await test.step('every packet is in the record of one boxer, in the order of the turns', () => {
		const all = turns.flatMap(({ packets }) => packets);
		const { endedMs } = turns[2]!.head;
		// The strap sends on when the session has ended.
		const heard = sent().filter(({ s }) => s * 1000 <= endedMs);
		expect(all.map(({ bpm }) => bpm)).toEqual(heard.map(({ bpm }) => bpm));
		// The undone hand-over left nothing: the first boxer's packets end with the second one.
		expect(turns[0]!.head.strapChanges).toHaveLength(1);
		for (const [i, { head, packets }] of turns.entries()) {
			const [put, given] = [i === 0 ? -1e9 : 0, i === 0 ? 0 : 1];
			const fromMs = i === 0 ? put : head.strapChanges![0]!.ms;
			const toMs = head.strapChanges![given]?.ms ?? Infinity;
			expect(packets.every(({ ms }) => ms > fromMs && ms <= toMs)).toBe(true);
		}
	});
	await test.step('each drop is that of the packets sent after the bell of their round', async () => {
		for (const [i, { head }] of turns.entries()) {
			const drop60 = dropAt(sent(), bellOf(i + 1), 60);
			await page.goto(`/review/#${head.id}`);
			await expect(await corner.cell(String(i + 1), '1-minute drop')).toContainText(`${Math.round(drop60)}`);
			await expect(
				page.getByText(`With a strap in round ${i + 1}. The other rounds are not measured.`)
			).toBeVisible();
		}
		const measured = (await corner.saved()).map(({ summary }) => summary?.rounds.length);
		expect(measured).toEqual([1, 1, 1]);
	});
	await test.step('whoever never wore it has an entry of the day and no session', async () => {
		await page.goto('/squad/');
		const entry = page
			.getByRole('list', { name: 'Register' })
			.getByRole('listitem')
			.filter({ hasText: 'Bao' });
		await expect(entry).toContainText('pads, bag');
	});
});
