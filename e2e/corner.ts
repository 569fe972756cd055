import type { Locator, Page } from '@playwright/test';
import type { Choice } from './chooser';
import type { EmulatedStrap } from './emulated-strap';
import { holdMouse } from './hold-mouse';
import { packet } from './packets';
import { expect, patienceMs } from './patience';
import { savedIn, type SavedSession } from './saved';

/** The number fields of the plan's form, by their labels. */
type PlanField =
	| 'Rounds'
	| 'Round, seconds'
	| 'Rest, seconds'
	| 'Warm-up, seconds'
	| 'Get ready, seconds'
	| 'Cool-down, seconds';
type PlanFields = Partial<Record<PlanField, number>>;

/** What comes to the page from outside: a radio emulated by the browser, or one on a bus of its own. */
export interface Air {
	choose(choice: Choice): Promise<void>;
	reload(): Promise<void>;
}

type Answer = { threshold: number } | { birthYear: number } | 'skip';
type Speed = 'real time' | '12 times as fast' | '60 times as fast';

type Column =
	| 'Length'
	| 'Average'
	| 'Peak'
	| 'Over threshold'
	| 'Closing burst'
	| 'Rest'
	| 'At the bell'
	| 'Drop at 0:30'
	| '1-minute drop'
	| 'After 1 min'
	| 'Verdict';

/** Seconds in a reading such as "1:05"; NaN where it is none. */
export function secondsIn(reading: string): number {
	const [minutes, seconds] = reading.split(':').map(Number);
	return minutes! * 60 + seconds!;
}

/** The page as its user knows it: buttons and readings by their names, and what one does with them. */
export class Corner {
	readonly page: Page;
	readonly #air: Air;

	constructor(page: Page, air: Air) {
		this.page = page;
		this.#air = air;
	}

	get timeLeft(): Locator {
		return this.page.getByRole('timer');
	}

	/** The clock with the name of the phase over it. */
	get clock(): Locator {
		return this.page.getByRole('region', { name: 'Clock' });
	}

	get heartRate(): Locator {
		return this.page.getByLabel('Heart rate', { exact: true });
	}

	get restDrop(): Locator {
		return this.page.getByLabel('Rest drop', { exact: true });
	}

	get overThreshold(): Locator {
		return this.page.getByLabel('Over threshold', { exact: true });
	}

	/** What the first screen says of the strap. */
	get strap(): Locator {
		return this.page.getByRole('region', { name: 'Strap' });
	}

	/** What opens and closes the form of the plan. */
	get planForm(): Locator {
		return this.page.getByText('Change the plan', { exact: true });
	}

	get unfinished(): Locator {
		return this.page.getByRole('region', { name: 'Unfinished session' });
	}

	button(
		name:
			| 'Pair strap'
			| 'Use simulated strap'
			| 'Start'
			| 'Pause'
			| 'Resume'
			| 'Next'
			| 'Finish hold'
			| 'Go on'
			| 'Save it as it is'
			| 'Discard it'
	): Locator {
		return this.page.getByRole('button', { name, exact: true });
	}

	/** The first screen; where they are given, the question of the first visit is answered and a plan typed in. */
	async open(answer?: Answer, plan?: PlanFields): Promise<void> {
		await this.page.goto('/');
		await this.#isAlive();
		if (answer) await this.answer(answer);
		if (plan) await this.plan(plan);
	}

	/** A first visit up to the start of a session with the simulated strap. */
	async begin(answer: Answer, plan: PlanFields, speed?: Speed): Promise<void> {
		await this.open(answer, plan);
		await this.practise(speed);
		await this.start();
	}

	/** By the header, so that what is being set up stays. */
	async toDetails(): Promise<void> {
		await this.page.getByRole('link', { name: /^(Me|Athletes)$/ }).click();
		await this.page.getByRole('link', { name: 'Details', exact: true }).click();
	}

	/** By the header: a setting is changed, and the first screen is there again. */
	async setting(change: (page: Page) => Promise<unknown>): Promise<void> {
		const settings = this.page.getByRole('link', { name: 'Settings', exact: true });
		if (!(await settings.isVisible())) await this.page.getByRole('button', { name: 'More' }).click();
		await settings.click();
		await change(this.page);
		await this.page.getByRole('link', { name: 'Train', exact: true }).click();
	}

	/** The built page shows its first screen at once and lets nobody type into it before it knows the settings. */
	async #isAlive(): Promise<void> {
		await expect(this.page.locator('[inert]')).toHaveCount(0);
	}

	/** Answers the question of the first visit. */
	async answer(answer: Answer): Promise<void> {
		await this.#isAlive();
		if (answer === 'skip') return this.page.getByRole('button', { name: 'Skip', exact: true }).click();
		if ('threshold' in answer)
			await this.page
				.getByRole('spinbutton', { name: 'Threshold, beats a minute' })
				.fill(String(answer.threshold));
		else await this.page.getByRole('spinbutton', { name: 'Year of birth' }).fill(String(answer.birthYear));
		await this.page.getByRole('button', { name: 'Save', exact: true }).click();
	}

	/** Types a plan of one's own into the form. No warm-up and no cool-down unless asked for. */
	async plan(fields: PlanFields): Promise<void> {
		await this.#isAlive();
		await this.planForm.click();
		const all = { 'Warm-up, seconds': 0, 'Cool-down, seconds': 0, ...fields };
		for (const [name, value] of Object.entries(all))
			await this.page.getByRole('spinbutton', { name, exact: true }).fill(String(value));
	}

	/** Asks for a strap and picks this one in the browser's chooser, or dismisses the chooser. */
	async pair(choice: Choice): Promise<void> {
		const answered = this.#air.choose(choice);
		await this.button('Pair strap').click();
		await answered;
	}

	async practise(speed: Speed = 'real time'): Promise<void> {
		await this.#isAlive();
		await this.page.getByRole('combobox', { name: 'Simulation speed' }).selectOption(speed);
		await this.button('Use simulated strap').click();
	}

	/** Answers the moment of the press, `performance.now()` of the page. */
	async start(by: 'button' | 'Space' = 'button'): Promise<number> {
		await expect(this.button('Start')).toBeEnabled();
		const pressed = await this.page.evaluateHandle(() => {
			const press: { atMs?: number } = {};
			const note = () => (press.atMs ??= performance.now());
			for (const kind of ['click', 'keydown']) addEventListener(kind, note, { capture: true, once: true });
			return press;
		});
		if (by === 'button') await this.button('Start').click();
		else await this.page.keyboard.press('Space');
		// At sixty times the pace of life a short session may be over before anybody has looked.
		const notKept = this.page.getByRole('heading', { name: 'The session could not be saved' });
		await expect(this.timeLeft.or(this.#roundByRound).or(notKept)).toBeVisible();
		const atMs = await pressed.evaluate((press) => press.atMs);
		if (atMs === undefined) throw new Error('The page saw no press.');
		return atMs;
	}

	/**
	 * Waits for the middle of a second counted from `startMs`, and answers how many seconds have gone by. A
	 * stream that begins here arrives far from the edges of the seconds, so that nobody can doubt which second
	 * a packet belongs to.
	 */
	middleOfSecond(startMs: number): Promise<number> {
		return this.page.evaluate(async (startMs) => {
			const elapsedS = () => (performance.now() - startMs) / 1000;
			const middleS = Math.floor(elapsedS() + 0.6) + 0.5;
			await new Promise((resolve) => setTimeout(resolve, (middleS - elapsedS()) * 1000));
			return middleS;
		}, startMs);
	}

	/**
	 * Ends the session: in its round the first press leads to the closing minute, and the second ends that. A short round
	 * has ended by itself where the machine is slow, and then the first press is the last.
	 */
	async finish(): Promise<void> {
		await this.holdFinish();
		const closing = this.clock.filter({ hasText: 'The last minute' });
		await expect(closing.or(this.#roundByRound)).toBeVisible();
		if (await closing.isVisible()) await this.holdFinish();
		await this.inReview();
	}

	async holdFinish(): Promise<void> {
		await this.#hold(this.button('Finish hold'));
	}

	async #hold(button: Locator): Promise<void> {
		await expect(button).toBeEnabled();
		await button.hover();
		await holdMouse(this.page);
	}

	/**
	 * A press as short as the page's own clock has it: on a busy machine one that is played from outside may take any time,
	 * and where a long one acts a short one cannot be told from it.
	 */
	async tap(where: Locator, ms: number): Promise<void> {
		await where.evaluate(
			(element, ms) =>
				new Promise<void>((resolve) => {
					const { left, top, width, height } = element.getBoundingClientRect();
					const at = { clientX: left + width / 2, clientY: top + height / 2, bubbles: true };
					element.dispatchEvent(new PointerEvent('pointerdown', at));
					setTimeout(() => {
						element.dispatchEvent(new PointerEvent('pointerup', at));
						resolve();
					}, ms);
				}),
			ms
		);
	}

	/** The same with a key. */
	async tapKey(key: string, ms: number): Promise<void> {
		await this.page.evaluate(
			({ key, ms }) =>
				new Promise<void>((resolve) => {
					document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
					setTimeout(() => {
						document.body.dispatchEvent(new KeyboardEvent('keyup', { key, bubbles: true }));
						resolve();
					}, ms);
				}),
			{ key, ms }
		);
	}

	/** What lies behind "More": opened, and its control answered. */
	async more(
		name:
			| 'Stop round'
			| 'Repeat round'
			| 'One more round'
			| 'Rest +30 s'
			| 'Skip block'
			| 'Add a block'
			| 'Boxers'
			| 'Scrap it hold'
			| 'Open ring-side screen'
	): Promise<Locator> {
		const more = this.page.getByRole('button', { name: 'More', exact: true });
		if ((await more.getAttribute('aria-expanded')) !== 'true') await more.click();
		return this.page.getByRole('button', { name, exact: true });
	}

	/** Opens the list of the files in which the session that stands open can be had, and answers the button of one. */
	async file(name: 'CSV' | 'JSON' | 'RR text' | 'FHIR' | 'Open mHealth'): Promise<Locator> {
		await this.page.getByRole('button', { name: 'Export', exact: true }).click();
		const files = this.page.getByRole('dialog', { name: 'Export this session' });
		await expect(files).toBeVisible();
		return files.getByRole('button', { name: `Export ${name}`, exact: true });
	}

	/** Gives up a session that has just begun. */
	async scrap(): Promise<void> {
		await this.#hold(await this.more('Scrap it hold'));
	}

	/** Waits until the session has ended and lies open in the review. */
	async inReview(timeout = patienceMs): Promise<void> {
		await expect(this.page).toHaveURL(/\/review\/#/, { timeout });
		await expect(this.#roundByRound).toBeVisible();
	}

	get #roundByRound(): Locator {
		return this.page.getByRole('heading', { name: 'Round by round' });
	}

	/** A cell of the review's table; rounds by the words in the first column. Rarer columns stand behind a press. */
	async cell(round: string, column: Column): Promise<Locator> {
		const table = this.page.getByRole('table');
		const heads = table.getByRole('columnheader');
		// How a figure is made lies behind its words.
		const place = async () =>
			(await heads.allTextContents()).findIndex((text) => text.trim().startsWith(column));
		const all = this.page.getByRole('button', { name: 'All columns' });
		await expect(heads.first()).toBeVisible();
		if ((await place()) < 0) await all.click();
		const row = table
			.getByRole('row')
			.filter({ has: this.page.getByRole('rowheader', { name: round, exact: true }) });
		// The first column is the row's header.
		const index = await place();
		expect(index, `the column "${column}"`).toBeGreaterThan(0);
		return row.getByRole('cell').nth(index - 1);
	}

	/** Waits until the clock has come down to `time` ("0:45"). A slow machine may look later than that, never earlier. */
	async clockDownTo(time: string): Promise<void> {
		await expect
			.poll(() => this.#secondsOnClock(), { timeout: 2 * patienceMs })
			.toBeLessThanOrEqual(secondsIn(time));
	}

	/** The same of a clock that counts up, as where the hall has a bell of its own. */
	async clockUpTo(time: string): Promise<void> {
		await expect
			.poll(() => this.#secondsOnClock(), { timeout: 2 * patienceMs })
			.toBeGreaterThanOrEqual(secondsIn(time));
	}

	async #secondsOnClock(): Promise<number> {
		return secondsIn((await this.timeLeft.textContent()) ?? '');
	}

	/** A round of half a minute at 150 beats, up to its review. */
	async boxOneRound(strap: EmulatedStrap): Promise<void> {
		await this.open();
		await this.plan({ Rounds: 1, 'Round, seconds': 30, 'Get ready, seconds': 0 });
		await this.pair(strap);
		await this.start();
		strap.stream(() => packet({ bpm: 150 }));
		await expect(this.heartRate).toHaveText('150');
		await this.finish();
	}

	/** After a reload there is neither a session nor the beginning of one. */
	async expectNothingKept(): Promise<void> {
		await this.reload();
		await expect(this.button('Use simulated strap')).toBeVisible();
		await expect(this.unfinished).toHaveCount(0);
		await this.openSessions();
		await expect(this.page.getByText('No session yet.')).toBeVisible();
		expect(await this.saved()).toEqual([]);
	}

	async openSessions(): Promise<void> {
		await this.page.getByRole('link', { name: 'Sessions', exact: true }).click();
		await expect(this.page.getByRole('heading', { name: 'Sessions', exact: true })).toBeVisible();
	}

	async reload(): Promise<void> {
		await this.#air.reload();
	}

	saved(): Promise<SavedSession[]> {
		return savedIn(this.page);
	}
}
