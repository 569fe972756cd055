import { expect, it } from 'vitest';
import { measureFolder } from './folder';

it('opens the new files of a large folder and no others; how long that takes is not judged here', async () => {
	const figures = await measureFolder(600, 7);
	expect(figures).toMatchObject({ files: 600, fresh: 7, opened: 7 });
	expect(figures.listMs).toBeGreaterThan(0);
	expect(figures.visitMs).toBeGreaterThanOrEqual(figures.listMs);
});
