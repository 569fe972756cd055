import { describe, expect, it } from 'vitest';
import { saveDay } from '$lib/store/days';
import { readAgainOnNews, touches } from '$lib/store/kept-changes';
import { restDay } from '../review/training-days';
import { freshStore } from './fresh-store';

/** A screen whose readings end when it is told so. */
function makeScreen() {
	const ends: (() => void)[] = [];
	const read = () => new Promise<void>((resolve) => ends.push(resolve));
	const endReading = async () => {
		ends.at(-1)!();
		await Promise.resolve();
		await Promise.resolve();
	};
	return { read, endReading, readings: () => ends.length };
}

describe('a screen that reads again what is written', () => {
	const march = (day: number) => `2026-03-${String(day).padStart(2, '0')}`;

	it('does so once more for all that came during one reading', async () => {
		const store = freshStore();
		const { read, endReading, readings } = makeScreen();
		const stop = readAgainOnNews(store, (keys) => touches(keys, 'day'), read);
		for (let day = 1; day <= 20; day++) await saveDay(store, 'ath-1', march(day), { changed: restDay });
		expect(readings()).toBe(1);
		await endReading();
		expect(readings()).toBe(2);
		await endReading();
		expect(readings()).toBe(2);
		await saveDay(store, 'ath-1', march(21), { changed: restDay });
		expect(readings()).toBe(3);
		stop();
	});
	it('leaves alone what does not concern it, and everything once it is left', async () => {
		const store = freshStore();
		const { read, endReading, readings } = makeScreen();
		const stopOther = readAgainOnNews(store, (keys) => touches(keys, 'tombstone'), read);
		const stop = readAgainOnNews(store, (keys) => keys.has('day/ath-1'), read);
		await saveDay(store, 'ath-2', march(1), { changed: restDay });
		expect(readings()).toBe(0);
		await saveDay(store, 'ath-1', march(1), { changed: restDay });
		await saveDay(store, 'ath-1', march(2), { changed: restDay });
		expect(readings()).toBe(1);
		stop();
		stopOther();
		await endReading();
		await saveDay(store, 'ath-1', march(3), { changed: restDay });
		expect(readings()).toBe(1);
	});
});
