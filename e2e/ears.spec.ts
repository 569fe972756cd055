import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';
import { patienceMs } from './patience';

interface Heard {
	sampleRate: number;
	peak: number;
	/** Power-weighted mean frequency in Hz. */
	centroidHz: number;
	/** Share of the energy between 600 and 4000 Hz. */
	midShare: number;
}

const names = {
	bell: 'Bell, a round starts',
	'bell, three strokes': 'Bell, a round ends',
	clapper: 'Clapper before a round ends',
	pulse: 'Pulse over the threshold',
	whistle: 'Whistle before a round starts'
};

/** What the page renders offline is listened to where it hands the rendered samples to the output. */
async function listen(page: Page) {
	await page.addInitScript(() => {
		const started: AudioBuffer[] = [];
		Object.assign(window, { started });
		const { start } = AudioBufferSourceNode.prototype;
		AudioBufferSourceNode.prototype.start = function (...times) {
			// Not what the synthesiser starts within its rendering, nor its own silent sources.
			if (this.context instanceof AudioContext && this.buffer?.getChannelData(0).some(Boolean))
				started.push(this.buffer);
			return start.apply(this, times);
		};
	});
}

const startedIn = (page: Page) =>
	page.evaluate(() => (window as unknown as { started: unknown[] }).started.length);

test.beforeEach(async ({ page, corner }) => {
	await listen(page);
	await corner.open('skip');
	await page.getByText('Bell and sounds', { exact: true }).click();
});

test('bell, clapper and pulse are loud, unclipped, told apart, and lie where a laptop’s speaker sounds', async ({
	page
}) => {
	const heard = {} as Record<keyof typeof names, Heard>;
	for (const [sound, name] of Object.entries(names)) {
		const before = await startedIn(page);
		await expect(async () => {
			await page.getByRole('button', { name: `Hear it: ${name}` }).click();
			expect(await startedIn(page)).toBeGreaterThan(before);
		}).toPass({ timeout: patienceMs });
		heard[sound as keyof typeof names] = await page.evaluate(() => {
			const buffer = (window as unknown as { started: AudioBuffer[] }).started.at(-1)!;
			const samples = buffer.getChannelData(0);
			const size = 2 ** Math.ceil(Math.log2(samples.length));
			const re = new Float64Array(size);
			const im = new Float64Array(size);
			re.set(samples);
			// The radix-2 transform of Cooley and Tukey (1965).
			for (let i = 1, j = 0; i < size; i++) {
				let bit = size >> 1;
				for (; j & bit; bit >>= 1) j ^= bit;
				j ^= bit;
				if (i < j) [re[i], re[j]] = [re[j]!, re[i]!];
			}
			for (let length = 2; length <= size; length <<= 1) {
				for (let k = 0; k < length / 2; k++) {
					const cos = Math.cos((-2 * Math.PI * k) / length);
					const sin = Math.sin((-2 * Math.PI * k) / length);
					for (let i = k; i < size; i += length) {
						const j = i + length / 2;
						const x = re[j]! * cos - im[j]! * sin;
						const y = re[j]! * sin + im[j]! * cos;
						re[j] = re[i]! - x;
						im[j] = im[i]! - y;
						re[i]! += x;
						im[i]! += y;
					}
				}
			}
			let energy = 0;
			let weighted = 0;
			let mid = 0;
			for (let bin = 1; bin < size / 2; bin++) {
				const hz = (bin * buffer.sampleRate) / size;
				const power = re[bin]! ** 2 + im[bin]! ** 2;
				energy += power;
				weighted += power * hz;
				if (hz >= 600 && hz <= 4000) mid += power;
			}
			return {
				sampleRate: buffer.sampleRate,
				peak: samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0),
				centroidHz: weighted / energy,
				midShare: mid / energy
			};
		});
	}

	for (const [sound, { peak, midShare }] of Object.entries(heard)) {
		const peakDb = 20 * Math.log10(peak);
		expect(peakDb, `${sound}: peak in dBFS`).toBeGreaterThanOrEqual(-3);
		expect(peakDb, `${sound}: peak in dBFS`).toBeLessThanOrEqual(-1);
		expect(midShare, `${sound}: share of the energy between 0.6 and 4 kHz`).toBeGreaterThanOrEqual(0.6);
	}
	const rising = [heard.pulse, heard.bell, heard.clapper].map(({ centroidHz }) => centroidHz);
	const factors = [rising[1]! / rising[0]!, rising[2]! / rising[1]!];
	expect(Math.min(...factors), `centroids of pulse, bell and clapper in Hz: ${rising}`).toBeGreaterThan(2);
	test.info().annotations.push({ type: 'measured', description: JSON.stringify(heard) });
});

test('the sounds are made though no timer comes, as in a tab that is hidden right after Start', async ({
	page
}) => {
	await page.evaluate(() => Object.assign(window, { setTimeout: () => 0 }));
	await expect(async () => {
		await page.getByRole('button', { name: 'Hear it: Clapper before a round ends' }).click();
		expect(await startedIn(page)).toBeGreaterThan(0);
	}).toPass({ timeout: patienceMs });
});
