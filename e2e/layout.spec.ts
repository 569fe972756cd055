import type { Locator, Page } from '@playwright/test';
import { expect, test } from './fixtures';

/** Height of a digit as drawn in an element's own face and size, in pixels. */
const digitHeight = (figure: Locator) =>
	figure.evaluate((element) => {
		const { fontStyle, fontWeight, fontSize, fontFamily } = getComputedStyle(element);
		const pen = document.createElement('canvas').getContext('2d')!;
		pen.font = `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`;
		return pen.measureText('0').actualBoundingBoxAscent;
	});

/** Nothing may reach beyond the window's right edge, once the pictures have taken the window's size. */
const expectNoSideways = (page: Page, where: string) =>
	expect
		.poll(
			() => page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
			`${where}: pixels beyond the right edge`
		)
		.toBe(0);

const screens = [
	{ width: 1366, height: 640 },
	{ width: 1366, height: 768 },
	{ width: 1920, height: 1080 }
];
const phones = [
	{ width: 360, height: 640 },
	{ width: 390, height: 844 }
];
const plan = { Rounds: 12, 'Round, seconds': 180, 'Rest, seconds': 60, 'Get ready, seconds': 0 };
const phases = ['Round 1 of 12', 'Rest after round 1'];

test('time left and heart rate can be read from five metres, at work and at rest', async ({
	page,
	corner
}) => {
	await corner.begin({ threshold: 170 }, plan);
	await page.evaluate(() => document.fonts.ready.then(() => undefined));

	for (const phase of phases) {
		await expect(corner.clock).toContainText(phase);
		await expect(corner.heartRate).toHaveText(/^\d+$/);
		for (const size of screens) {
			await page.setViewportSize(size);
			const where = `${phase}, ${size.width} x ${size.height}`;
			for (const figure of [corner.timeLeft, corner.heartRate]) {
				expect((await digitHeight(figure)) / size.height, where).toBeGreaterThanOrEqual(0.2);
				await expect(figure, where).toBeInViewport({ ratio: 1 });
			}
			await expect(corner.restDrop, where).toBeInViewport({ ratio: 1 });
			await expect(corner.overThreshold, where).toBeInViewport({ ratio: 1 });
			await expect(corner.button('Pause'), where).toBeInViewport({ ratio: 1 });
			await expectNoSideways(page, where);
		}
		await corner.button('Next').click();
	}
});

test('on a phone no screen scrolls sideways', async ({ page, corner }) => {
	const everyPhone = async (where: string, see: () => Promise<void> = () => Promise.resolve()) => {
		for (const size of phones) {
			await page.setViewportSize(size);
			await expectNoSideways(page, `${where}, ${size.width} wide`);
			await see();
		}
		await page.setViewportSize(phones[0]!);
	};
	await page.setViewportSize(phones[0]!);
	await corner.open();
	await expect(corner.button('Use simulated strap')).toBeVisible();
	await everyPhone('first visit');
	await corner.answer({ threshold: 170 });
	await corner.plan(plan);
	await everyPhone('the plan in the form');
	await corner.practise();
	await corner.start();

	for (const phase of phases) {
		await expect(corner.clock).toContainText(phase);
		await everyPhone(phase, async () => {
			await expect(corner.timeLeft).toBeInViewport({ ratio: 1 });
			await expect(corner.heartRate).toBeInViewport({ ratio: 1 });
		});
		await corner.button('Next').click();
	}

	await expect(corner.clock).toContainText('Round 2 of 12');
	await corner.finish();
	await everyPhone('review');
	await corner.openSessions();
	await expect(page.getByRole('listitem')).toBeVisible();
	await everyPhone('sessions');
});

test('a phone turned upright in mid-round does not scroll sideways', async ({ page, corner }) => {
	const [, { width, height }] = phones as [object, { width: number; height: number }];
	await page.setViewportSize({ width: height, height: width });
	await corner.begin({ threshold: 170 }, plan);
	await expect(corner.clock).toContainText('Round 1 of 12');
	await expectNoSideways(page, 'lying');

	await page.setViewportSize({ width, height });
	await expectNoSideways(page, 'upright');
});

test('with gloves on, every control of the live screen is a target of 64 px', async ({ page, corner }) => {
	await corner.open('skip');
	await corner.practise();
	await corner.start();
	const controls = page.getByRole('group', { name: 'Controls' }).getByRole('button');
	await expect(controls.first()).toBeVisible();
	for (const size of [screens[0]!, phones[0]!]) {
		await page.setViewportSize(size);
		await corner.more('Boxers');
		for (const control of await controls.filter({ visible: true }).all()) {
			const box = (await control.boundingBox())!;
			const name = (await control.textContent()) ?? '';
			expect(Math.min(box.width, box.height), name).toBeGreaterThanOrEqual(64);
		}
	}
});

test('on a laptop the controls stand in one row, and nothing moves when the session can no longer be scrapped', async ({
	page,
	corner
}) => {
	await corner.open({ threshold: 170 }, { ...plan, 'Get ready, seconds': 600 });
	// With two of them there is one control more, and the last would stand in a row alone.
	await page.getByRole('button', { name: 'Add a block' }).click();
	await corner.practise('12 times as fast');
	await corner.start();
	const controls = page.getByRole('group', { name: 'Controls', exact: true });
	const places = async () => ({
		controls: await controls.boundingBox(),
		clock: await corner.timeLeft.boundingBox(),
		rate: await corner.heartRate.boundingBox(),
		added: await page.getByRole('button', { name: 'Add a block' }).boundingBox(),
		keys: await page.getByRole('button', { name: 'Keys' }).boundingBox()
	});
	const tops = await controls
		.getByRole('button')
		.evaluateAll((all) => all.map((one) => one.getBoundingClientRect().top));
	expect(tops.length, 'Pause, Next, Flag, More and Finish').toBe(5);
	expect(new Set(tops).size, 'rows').toBe(1);
	const [next, finish] = [corner.button('Next'), corner.button('Finish hold')];
	const apartPx = (await finish.boundingBox())!.x - (await next.boundingBox())!.x;
	expect(apartPx, 'Finish is apart').toBeGreaterThan(1366 / 2);

	const scrap = await corner.more('Scrap it hold');
	await expect(scrap).toBeVisible();
	const before = await places();
	await expect(scrap).toBeDisabled();
	await expect(await corner.more('Rest +30 s')).toBeVisible();
	expect(await places()).toEqual(before);
});

test('a short press on Finish ends nothing', async ({ corner }) => {
	await corner.begin('skip', { ...plan, Rounds: 1 });
	await expect(corner.clock).toContainText('Round 1 of 1');
	await corner.tap(corner.button('Finish hold'), 0);
	await corner.tap(corner.button('Finish hold'), 200);
	await corner.clockDownTo('2:56');
	await expect(corner.clock).toContainText('Round 1 of 1');
	await corner.finish();
});
