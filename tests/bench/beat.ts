import { chromium, type Page } from '@playwright/test';
import { packet } from '../../e2e/packets';
import { Radio } from '../../e2e/radio';
import { floorAddress } from './floor';
import { address, chromiumArgs, chromiumPath } from './page';
import { median, percentile, type Row } from './table';

const packets = 300;
const slowness = 4;

interface Beat {
	/** The handlers' own time. */
	handlerMs: number;
	/** The figure stood in the document when the first frame after the event began. */
	isInFirstFrame: boolean;
	/** From the event to the end of that frame. */
	paintedMs?: number;
}

/**
 * Packets through Chromium's own Bluetooth into a running session, and into a page that shows their figure and does
 * nothing else, the processor slowed four times.
 */
export async function beatRows(): Promise<Row[]> {
	const floor = await beatsOf(`${await floorAddress()}figure/`, () => Promise.resolve());
	const beats = await beatsOf(address, async (page) => {
		await page.getByRole('button', { name: 'Start', exact: true }).click();
		await page.getByRole('timer').waitFor();
	});
	const shown = beats.filter(({ isInFirstFrame }) => isInFirstFrame).length;
	const slow = `processor slowed ${slowness} times`;
	const paintedMs = (of: readonly Beat[]) => of.map(({ paintedMs }) => paintedMs ?? Infinity);
	const handlerMs = (of: readonly Beat[]) => median(of.map(({ handlerMs }) => handlerMs));
	return [
		{
			row: 'Beat: figure painted in the first frame after its packet',
			measured: (100 * shown) / beats.length,
			limit: 99,
			kind: 'least',
			unit: '%',
			note: `${beats.length} packets, ${slow}`
		},
		{
			row: 'Beat: packet to the end of that frame, 99th percentile',
			measured: percentile(paintedMs(beats), 99),
			floor: percentile(paintedMs(floor), 99),
			limit: 1.5,
			kind: 'most',
			unit: 'ms',
			note: `median ${median(paintedMs(beats)).toFixed(1)} ms, of a page with one figure ${median(paintedMs(floor)).toFixed(1)} ms`
		},
		{
			row: 'Beat: the handler in the page',
			measured: handlerMs(beats),
			control: handlerMs(floor),
			limit: 1,
			kind: 'most',
			unit: 'ms',
			note: `${slow}; the control is that of the page with one figure`
		}
	];
}

/** What came of each packet to the page at `url`, which is paired there and then made to `begin`. */
async function beatsOf(url: string, begin: (page: Page) => Promise<void>): Promise<Beat[]> {
	const browser = await chromium.launch({ executablePath: chromiumPath(), args: chromiumArgs });
	try {
		const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
		const page = await context.newPage();
		const radio = await Radio.on(page);
		await page.addInitScript(watchBeats);
		await page.goto(url);
		const strap = await radio.addStrap({ address: '02:00:00:00:00:01', name: 'Bench strap' });
		const pair = page.getByRole('button', { name: 'Pair strap', exact: true });
		await page.waitForFunction(() => !document.querySelector('[inert]'));
		const answered = radio.choose(strap);
		await pair.click();
		await answered;
		while (!strap.subscribed) await page.waitForTimeout(50);
		await strap.notify(packet({ bpm: 140, contact: true, rr1024: [430] }));
		await begin(page);
		const devtools = await context.newCDPSession(page);
		await devtools.send('Emulation.setCPUThrottlingRate', { rate: slowness });
		for (let i = 0; i < packets; i++) {
			await strap.notify(packet({ bpm: 130 + (i % 50), contact: true, rr1024: [400 + (i % 60)] }));
			// Never in step with the frames.
			await new Promise((resolve) => setTimeout(resolve, 90 + ((i * 37) % 60)));
		}
		const beats = (await beatsIn(page)).slice(-packets);
		radio.off();
		return beats;
	} finally {
		await browser.close();
	}
}

const beatsIn = (page: Page) => page.evaluate(() => (window as unknown as { beats: Beat[] }).beats);

/** Runs in the page: wraps the handlers of heart-rate packets. */
function watchBeats(): void {
	const beats: Beat[] = [];
	Object.assign(window, { beats });
	const { BluetoothRemoteGATTCharacteristic: characteristic } = window as unknown as {
		BluetoothRemoteGATTCharacteristic?: { prototype: EventTarget };
	};
	if (!characteristic) return;
	const add = EventTarget.prototype.addEventListener;
	characteristic.prototype.addEventListener = function (
		this: BluetoothRemoteGATTCharacteristic,
		type: string,
		listener: EventListener,
		options?: AddEventListenerOptions
	) {
		if (type !== 'characteristicvaluechanged' || !this.uuid.startsWith('00002a37'))
			return add.call(this, type, listener, options);
		const timed = (event: Event) => {
			const startMs = performance.now();
			listener.call(this, event);
			const beat: Beat = { handlerMs: performance.now() - startMs, isInFirstFrame: false };
			beats.push(beat);
			const bpm = this.value!.getUint8(1);
			requestAnimationFrame(() => {
				const figure = document.querySelector('[aria-label="Heart rate"]')?.textContent?.trim();
				beat.isInFirstFrame = figure === String(bpm);
				const { port1, port2 } = new MessageChannel();
				port1.onmessage = () => (beat.paintedMs = performance.now() - startMs);
				port2.postMessage(undefined);
			});
		};
		add.call(this, type, timed, options);
	} as EventTarget['addEventListener'];
}
