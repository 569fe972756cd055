import { expect, type Locator, type Page } from '@playwright/test';
import type { InReach } from './chooser';
import type { Air, Corner } from './corner';

/** Several corners as their coach knows them: each a group with its number, before the bell and after it. */
export class Squad {
	readonly page: Page;

	constructor(
		private readonly corner: Corner,
		private readonly air: Air
	) {
		this.page = corner.page;
	}

	/** A corner before the first bell. */
	place(number: number): Locator {
		return this.page.getByRole('group', { name: `Boxer ${number}`, exact: true });
	}

	/** A corner while the session runs. */
	lane(number: number): Locator {
		return this.page.getByRole('group', { name: new RegExp(`^Boxer ${number}, `) });
	}

	reading(number: number, name: 'Heart rate' | 'Rest drop' | 'Over threshold'): Locator {
		return this.lane(number).getByRole('group', { name, exact: true });
	}

	/** Adds a corner with somebody new in it. */
	async add(number: number, name: string): Promise<void> {
		await this.page.getByRole('button', { name: 'Add a boxer' }).click();
		await this.newcomer(this.place(number), 'Athlete', name);
	}

	/** Chooses "somebody new" and gives the name. */
	async newcomer(where: Locator, label: string, name: string): Promise<void> {
		await where.getByRole('combobox', { name: label }).selectOption('Somebody new');
		await where.getByRole('textbox', { name: 'Name or alias' }).fill(name);
		await where.getByRole('button', { name: 'Add', exact: true }).click();
	}

	async pair(number: number, strap: InReach): Promise<void> {
		const answered = this.air.choose(strap);
		await this.place(number).getByRole('button', { name: 'Pair strap' }).click();
		await answered;
		await expect(this.place(number)).toContainText(strap.name);
	}

	async practise(number: number): Promise<void> {
		await this.place(number).getByRole('button', { name: 'Use simulated strap' }).click();
		await expect(this.place(number)).toContainText('Simulated strap');
	}

	/** Two clicks while the session runs. */
	async swap(one: number, other: number): Promise<void> {
		await this.lane(one)
			.getByRole('button', { name: /^Swap strap/ })
			.click();
		await this.lane(other)
			.getByRole('button', { name: /^Swap with/ })
			.click();
	}

	/** Opens the dialog of the corners; the answer closes it. */
	async open(): Promise<{ dialog: Locator; close: () => Promise<void> }> {
		await (await this.corner.more('Boxers')).click();
		const dialog = this.page.getByRole('dialog', { name: 'Boxers' });
		await expect(dialog).toBeVisible();
		return {
			dialog,
			close: () => dialog.getByRole('button', { name: 'Close' }).click()
		};
	}

	/** A cell of the review's table of all corners; columns by their words. */
	async cell(name: string, column: string): Promise<Locator> {
		const table = this.page.getByRole('region', { name: 'Boxers side by side' }).getByRole('table');
		await expect(table).toBeVisible();
		const columns = await table.getByRole('columnheader').allTextContents();
		const index = columns.indexOf(column);
		expect(index, `the column "${column}" among ${columns.join(', ')}`).toBeGreaterThan(0);
		return table
			.getByRole('row')
			.filter({ has: this.page.getByRole('rowheader', { name: new RegExp(name) }) })
			.getByRole('cell')
			.nth(index - 1);
	}
}
