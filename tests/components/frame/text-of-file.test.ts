import { textOfFile } from '$lib/components/frame/text-of-file';
import { describe, expect, it } from 'vitest';

const fileOf = (...parts: BlobPart[]) => new File(parts, 'file.json');

describe('the text of a file', () => {
	it.each([
		['one byte each', 'a'],
		['three bytes each', '€'],
		// Four bytes are two characters, as a text counts them.
		['four bytes for two', '🥊']
	])('is read up to the last character that can be taken, and not with one more: %s', async (_, sign) => {
		const text = sign.repeat(300 / sign.length);
		expect(await textOfFile(fileOf(text), 300)).toBe(text);
		expect(await textOfFile(fileOf(text, 'a'), 300)).toBeUndefined();
	});

	it('is what the browser makes of it: without the mark at its start, and with a sign for what is no text', async () => {
		const file = fileOf(Uint8Array.of(0xef, 0xbb, 0xbf, 0x61, 0xff, 0x62));
		expect(await textOfFile(file, 100)).toBe('a\uFFFDb');
		expect(await textOfFile(file, 100)).toBe(await file.text());
	});

	it('is left at the piece that is too much: a file of a hundred pieces is not fetched for the first three', async () => {
		let fetched = 0;
		const pieces = new ReadableStream<Uint8Array<ArrayBuffer>>({
			pull: (controller) => {
				fetched++;
				controller.enqueue(new Uint8Array(1000).fill(0x20));
				if (fetched === 100) controller.close();
			}
		});
		const file = Object.assign(fileOf(), { stream: () => pieces });
		expect(await textOfFile(file, 2500)).toBeUndefined();
		// Each step between holds a piece or two of its own.
		expect(fetched).toBeLessThan(10);
	});

	it('is not even begun where no text of so many bytes could be taken', async () => {
		const file = fileOf('a'.repeat(31));
		Object.assign(file, { stream: () => expect.unreachable('It was opened.') });
		expect(await textOfFile(file, 10)).toBeUndefined();
	});

	it('rejects where the file cannot be read', async () => {
		const gone = new ReadableStream({ start: (controller) => controller.error(new Error('gone')) });
		await expect(textOfFile(Object.assign(fileOf('a'), { stream: () => gone }), 10)).rejects.toThrow('gone');
	});
});
