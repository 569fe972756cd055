import { expect, test } from '../fixtures';
import { packet } from '../packets';

const sizes = [
	{ width: 1366, height: 640 },
	{ width: 1366, height: 768 },
	{ width: 1920, height: 1080 },
	{ width: 390, height: 844 },
	{ width: 360, height: 740 }
];

/** What was seen in every frame that differs: for each size, each layout and each element all its boxes. */
type Seen = Record<string, string[]>;

test('no figure moves through a whole session: get ready, work, rest, a pause, a lost signal, the last minute', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Chest strap A' });
	await corner.open(
		{ threshold: 150 },
		{ Rounds: 2, 'Round, seconds': 40, 'Rest, seconds': 60, 'Get ready, seconds': 10 }
	);
	await corner.pair(strap);
	await corner.start();
	const startMs = Date.now();
	const rateAt = (s: number) => {
		const inTurn = (s + 90) % 100;
		return Math.round(inTurn < 40 ? 130 + inTurn : 170 - 50 * (1 - Math.exp(-(inTurn - 40) / 30)));
	};
	const beat = () => strap.stream(() => packet({ bpm: rateAt((Date.now() - startMs) / 1000) }));

	beat();

	await page.evaluate(() => {
		const seen: Record<string, Set<string>> = {};
		let steadyFrom = 0;
		const look = () => {
			const timer = document.querySelector('[role=timer]');
			if (!timer || performance.now() < steadyFrom) return;
			const phase = timer.closest('section')?.textContent ?? '';
			const layout = /Rest after|last minute/.test(phase) ? 'rest' : 'work';
			const named: Record<string, Element | null> = {
				clock: timer,
				rate: document.querySelector('[aria-label="Heart rate"]'),
				drop: document.querySelector('[aria-label="Rest drop"]'),
				rail: document.querySelector('header'),
				foot: document.querySelector('[aria-label="Controls"]')
			};
			for (const button of document.querySelectorAll('[aria-label="Controls"] button')) {
				const name = button.getAttribute('aria-label') ?? button.textContent!.trim();
				if (['Pause', 'Resume', 'Next', 'Flag', 'More', 'Finish hold'].includes(name))
					named[name === 'Resume' ? 'Pause' : name] = button;
			}
			for (const [name, element] of Object.entries(named)) {
				if (!element) continue;
				const { x, y, width, height } = element.getBoundingClientRect();
				const box = [x, y, width, height].map((px) => Math.round(px * 2) / 2).join(' ');
				(seen[`${innerWidth}x${innerHeight} ${layout} ${name}`] ??= new Set()).add(box);
			}
		};
		// A frame is like the one before unless the document or the window has changed, a font has come, or something moves
		// by itself. To ask for every frame would have all of them drawn, which costs more than the session.
		let framesToCome = 0;
		const frame = () => {
			look();
			if (document.getAnimations().length === 0) framesToCome--;
			if (framesToCome > 0) requestAnimationFrame(frame);
		};
		const changed = () => {
			if (framesToCome === 0) requestAnimationFrame(frame);
			framesToCome = 2;
		};
		new MutationObserver(changed).observe(document, {
			subtree: true,
			childList: true,
			characterData: true,
			attributes: true
		});
		addEventListener('resize', () => {
			steadyFrom = performance.now() + 400;
			setTimeout(changed, 400);
		});
		const others =
			'scroll load input toggle focusin focusout pointerdown pointerup transitionrun animationstart';
		for (const kind of others.split(' ')) addEventListener(kind, changed, { capture: true });
		document.fonts.addEventListener('loadingdone', changed);
		changed();
		Object.assign(window, {
			seenSoFar: () => Object.fromEntries(Object.entries(seen).map(([key, boxes]) => [key, [...boxes]]))
		});
	});

	let picture = { width: 0, height: 0 };
	const events: [phase: RegExp, leftS: number, act: () => unknown][] = [
		[/Round 1/, 38, () => page.keyboard.press('Space')],
		[/Round 1.*paused/, 38, () => page.keyboard.press('Space')],
		[/Round 1/, 30, () => page.keyboard.press('m')],
		[/Rest after/, 50, () => strap.silence()],
		[/Rest after/, 42, beat],
		[/Round 2/, 32, () => strap.silence()],
		[/Round 2/, 24, beat],
		// Too short to end anything, by the page's own clock: on a busy machine the next turn may come late.
		[/last minute/, 45, () => corner.tapKey('q', 700)]
	];
	let seen: Seen = {};
	for (let turn = 0; /live/.test(page.url()); turn++) {
		const size = sizes[turn % sizes.length]!;
		await page.setViewportSize(size);
		await page.waitForTimeout(900);
		const phase = (await corner.clock.textContent({ timeout: 3000 }).catch(() => '')) ?? '';
		const [, minutes, seconds] = /(\d+):(\d\d)/.exec(phase) ?? [];
		const leftS = Number(minutes) * 60 + Number(seconds);
		const [next] = events;
		if (next?.[0].test(phase) && leftS <= next[1]) {
			events.shift();
			await next[2]();
		}
		if (size.height === 768 && /Rest after/.test(phase)) {
			const box = await page
				.getByRole('img', { name: /^Bell rate/ })
				.boundingBox({ timeout: 500 })
				.catch(() => null);
			if (box) picture = box;
		}
		seen = await page
			.evaluate(() => (window as unknown as { seenSoFar: () => Seen }).seenSoFar())
			.catch(() => seen);
	}
	expect(events.length, 'all that was to happen has happened').toBe(0);

	const moved = Object.entries(seen).filter(([, boxes]) => boxes.length > 1);
	expect(Object.fromEntries(moved), 'what moved').toEqual({});
	for (const { width, height } of sizes)
		for (const layout of ['work', 'rest'])
			for (const name of [
				'clock',
				'rate',
				'drop',
				'rail',
				'foot',
				'Pause',
				'Next',
				'Flag',
				'More',
				'Finish hold'
			])
				expect(seen, 'looked at').toHaveProperty([`${width}x${height} ${layout} ${name}`]);
	expect(picture.width, 'the picture of the fall').toBeGreaterThanOrEqual(880);
	expect(picture.height, 'the picture of the fall').toBeGreaterThanOrEqual(420);
});
