import { expect, test } from './fixtures';

test('a first-time user makes an athlete, runs for a threshold, and the next session is held against it', async ({
	page,
	corner
}) => {
	await page.goto('/athletes/');
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('Me');
	await expect(page.getByRole('combobox', { name: 'Athlete' })).toHaveCount(0);
	await expect(page.getByText('No session with a strap yet.')).toBeVisible();
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await page.getByLabel('Name or alias', { exact: true }).fill('Odalys');
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).fill('1999');
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).press('Tab');
	await expect(page.getByText('Sex is not given', { exact: false })).toBeVisible();
	// Each wrong number is named at its own field, and stays so while another is typed.
	const wrong = page.getByRole('spinbutton', { name: /^(Height|Resting rate), / });
	for (const field of await wrong.all()) {
		await field.fill('900');
		await field.press('Tab');
	}
	await expect(page.getByRole('alert')).toHaveText([
		'From 100 to 230 cm: this was not kept.',
		'From 30 to 120 beats a minute: this was not kept.'
	]);
	for (const field of await wrong.all()) {
		await field.fill('');
		await field.press('Tab');
	}
	await expect(page.getByRole('alert')).toHaveCount(0);
	await page.getByRole('combobox', { name: /^Sex used/ }).selectOption('female');
	await page.getByRole('spinbutton', { name: /^Weight, kg/ }).fill('63');
	await page.getByRole('spinbutton', { name: /^Weight, kg/ }).press('Tab');
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('Odalys');

	await page.getByRole('navigation', { name: 'Athlete' }).getByRole('link', { name: 'Tests' }).click();
	await page.getByRole('link', { name: 'Do the test: Threshold run' }).click();
	await expect(page.getByText('Stop at once')).toBeVisible();
	await page.getByRole('spinbutton', { name: 'Warm-up, minutes' }).fill('1');
	await corner.practise('60 times as fast');
	await expect(corner.button('Start')).toBeDisabled();
	await page.getByRole('checkbox', { name: /Read and understood/ }).check();
	await corner.button('Start').click();
	await expect(corner.clock).toContainText('The 20 minutes');
	await expect(page.getByRole('group', { name: 'Mean so far' })).toContainText(/1\d\d/);
	await expect(page.getByText(/^Raised (once|\d times)/)).toBeVisible();
	// What it costs is for afterwards.
	await expect(page.getByText(/kJ|kcal/)).toHaveCount(0);
	await corner.inReview();

	const result = page.getByRole('region', { name: 'Result' });
	await result.getByRole('button', { name: 'Yes, some minutes more' }).click();
	// Effort is asked once.
	await page.getByRole('radio', { name: '7', exact: true }).check({ force: true });
	await expect(result).toContainText('fair');
	// Both readings in whole beats, each one press away.
	const offered = async (basis: string) => {
		const button = result.getByRole('button', { name: `as the threshold, the ${basis}` });
		return { button, bpm: Number(/^\s*Use (\d+) as/.exec((await button.textContent()) ?? '')?.[1]) };
	};
	const lessFive = await offered('mean less 5 %');
	const mean20 = await offered('20-minute mean');
	// The mean less 5 %: common practice, no source. Both are rounded.
	expect(Math.abs(lessFive.bpm - mean20.bpm * 0.95)).toBeLessThan(1);
	await expect(result).toContainText('A run with rising pace reads low');
	await lessFive.button.click();
	await expect(result).toContainText(`In use: ${lessFive.bpm}, the mean less 5 %`);
	await mean20.button.click();
	await expect(result).toContainText(`In use: ${mean20.bpm}, the 20-minute mean`);

	// What it cost is checked by its pace, once somebody says how far it was.
	await page.getByText('More: energy and load').click();
	const costs = page.getByRole('region', { name: 'Energy and load' });
	const byPace = costs.locator('dl > div').filter({ hasText: 'Typical for this work' });
	await expect(costs).toContainText('pace, which is not known');
	await expect(byPace).toHaveCount(0);
	await result.getByRole('spinbutton', { name: /^How far was it/ }).fill('4');
	await result.getByRole('spinbutton', { name: /^How far was it/ }).press('Tab');
	// 4 km in 20 minutes are 7.46 miles an hour, 11.4 to 11.5 MET: x 63 kg x 1/3 h, in kcal.
	await expect(byPace).toContainText('240 kcal');

	// Beside it what the order of the beats says: both rates, in their order, below the highest of the run.
	const opinion = page.getByRole('region', { name: /^A second opinion/ });
	const said = (await opinion.textContent()) ?? '';
	const [aerobic, anaerobic] = [...said.matchAll(/aerobic threshold\s*(\d+)/g)].map(([, bpm]) => Number(bpm));
	expect(aerobic).toBeGreaterThan(140);
	expect(anaerobic).toBeGreaterThan(aerobic!);
	expect(anaerobic).toBeLessThan(192);
	expect(said).toMatch(/Bad beats\s*0 %/);
	await opinion.getByRole('button', { name: /^A second opinion/ }).click();
	await expect(opinion.getByText('straight line of alpha-1 over heart rate')).toBeVisible();
	await expect(opinion.getByRole('link', { name: 'Formula, error and source' })).toBeVisible();
	await page.keyboard.press('Escape');

	// What the page says is the mean of the packets in the 20 minutes that it kept.
	const [kept] = await corner.saved();
	const fromMs = 70_000;
	const inRun = kept!.packets.filter(({ ms }) => ms > fromMs && ms <= fromMs + 1_200_000);
	const mean = inRun.reduce((sum, { bpm }) => sum + bpm, 0) / inRun.length;
	expect(Math.abs(mean - mean20.bpm)).toBeLessThan(0.8);

	await page.getByRole('link', { name: 'Me', exact: true }).click();
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await expect(page.getByText(/^Stands on: 20-minute mean, \w{3} \d+ \w{3}$/)).toBeVisible();
	await expect(page.getByText(`${lessFive.bpm}, 20-minute mean less 5 %`)).toBeVisible();

	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await corner.practise('60 times as fast');
	await corner.button('Start').click();
	await expect(page.getByText(new RegExp(`^\\s*threshold ${mean20.bpm}, 20-minute mean\\s*$`))).toBeVisible();
	await expect(corner.overThreshold).toContainText(/(?!0:00)\d+:\d\d this round/, { timeout: 120_000 });
});

test('a run stopped early keeps what there is and says what it cannot tell', async ({ page, corner }) => {
	await page.goto('/tests/');
	await page.getByRole('spinbutton', { name: 'Warm-up, minutes' }).fill('0');
	await corner.practise('12 times as fast');
	await page.getByRole('checkbox', { name: /Read and understood/ }).check();
	await corner.button('Start').click();
	await expect(corner.clock).toContainText('The 20 minutes');
	// At twelve times the pace of life the closing minute may be over before it could be cut short, or looked at.
	await corner.holdFinish();
	await expect(corner.clock.filter({ hasText: 'The 20 minutes' })).toHaveCount(0);
	await expect(page).toHaveURL(/\/review\/#/);
	const result = page.getByRole('region', { name: 'Result' });
	await expect(result).toContainText(/stopped after \d+:\d\d of 20:00/);
	await expect(result.getByRole('button', { name: /as the threshold/ })).toHaveCount(0);
});

test('a second athlete makes a roster; deleting one says what goes with it and can be undone', async ({
	page
}) => {
	await page.goto('/athletes/details/');
	await page.getByRole('button', { name: 'Add', exact: true }).click();
	await expect(page.getByRole('alert')).toHaveText('Give the athlete a name or an alias.');
	const who = page.getByRole('combobox', { name: 'Athlete' });
	const name = page.getByRole('heading', { level: 1 });
	await page.getByLabel('Name or alias of the new athlete').fill('Second corner');
	await page.getByRole('button', { name: 'Add', exact: true }).click();
	await expect(name).toHaveText('Second corner');
	await expect(who.getByRole('option', { name: 'Second corner' })).toHaveJSProperty('selected', true);
	await page.getByRole('button', { name: 'Delete Second corner' }).click();
	await expect(page.getByRole('alert')).toContainText('no session');
	await page.getByRole('button', { name: 'Delete Second corner' }).click();
	await expect(name).toHaveText('Me');
	await expect(who).toHaveCount(0);
	await page.getByRole('button', { name: 'Undo' }).click();
	await expect(name).toHaveText('Second corner');

	// A link leads to one of them, and what it chose stays chosen.
	const meId = await who.getByRole('option', { name: 'Me' }).getAttribute('value');
	await page.goto(`/athletes/#of=${meId}`);
	await expect(name).toHaveText('Me');
	await expect(page).toHaveURL(/\/athletes\/$/);
	await page.goto('/athletes/tests/');
	await expect(name).toHaveText('Me');
});

test('a recovery check ends in three still minutes and tells tau; a junior boxes two minutes a round', async ({
	page,
	corner
}) => {
	await page.goto('/athletes/details/');
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).fill(String(new Date().getFullYear() - 15));
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).press('Tab');
	await page.getByRole('navigation', { name: 'Athlete' }).getByRole('link', { name: 'Tests' }).click();
	await page.getByRole('link', { name: 'Do the test: Recovery check' }).click();
	await page.getByRole('radio', { name: /Recovery check/ }).check();
	await expect(page.getByText(/^\s*3 x 2 minutes of shadow boxing/)).toBeVisible();
	await corner.practise('60 times as fast');
	await page.getByRole('checkbox', { name: /Read and understood/ }).check();
	await corner.button('Start').click();
	await expect(corner.clock).toContainText('Three minutes still');
	await corner.inReview();
	const result = page.getByRole('region', { name: 'Result' });
	await expect(result).toContainText(/Recovery speed.*Formula, error and source\s*\d+ s\s*± \d+ s/s);
	await expect(result).toContainText(/The check before\s*none yet/);
	for (const round of ['1', '2', '3']) await expect(await corner.cell(round, 'Length')).toHaveText('2:00');
});

test('an athlete’s screens read what they show, and are then at rest', async ({ page }) => {
	await page.addInitScript(() => {
		const asked = { count: 0 };
		Object.assign(window, { asked });
		const { transaction } = IDBDatabase.prototype;
		IDBDatabase.prototype.transaction = function (...given) {
			asked.count++;
			return transaction.apply(this, given);
		};
	});
	const count = () => page.evaluate(() => (window as unknown as { asked: { count: number } }).asked.count);
	await page.goto('/athletes/');
	await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
	for (const name of ['Progress', 'Tests']) {
		await page.getByRole('link', { name, exact: true }).click();
		await expect.poll(count).toBeGreaterThan(0);
		await expect
			.poll(async () => {
				const before = await count();
				await page.waitForTimeout(500);
				return (await count()) - before;
			})
			.toBe(0);
	}
});
