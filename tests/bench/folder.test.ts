import 'fake-indexeddb/auto';
import { expect, it } from 'vitest';
import { measureFolder, measureYears } from './folder';

it('opens the new files of a large folder and no others; how long that takes is not judged here', async () => {
	const figures = await measureFolder(600, 7);
	expect(figures).toMatchObject({ files: 600, fresh: 7, opened: 7 });
	expect(figures.listMs).toBeGreaterThan(0);
	expect(figures.visitMs).toBeGreaterThanOrEqual(figures.listMs);
});

it('lists of ten years the two that are due, and opens the new files alone', async () => {
	const { files, listed, opened } = await measureYears(30, 8);
	const thisYear = new Date().getUTCFullYear();
	expect([files, opened]).toEqual([300, 8]);
	expect(listed.sort()).toEqual(['', 'files', `files/${thisYear - 1}`, `files/${thisYear}`]);
});
