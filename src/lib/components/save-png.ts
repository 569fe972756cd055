import { download } from './download';

/** Twice the screen's pixels: sharp when printed from a phone. */
const pixelRatio = 2;

/** Saves an element as it stands as a picture. Rejects where the browser cannot. */
export async function savePng(element: HTMLElement, fileName: string): Promise<void> {
	// Here and not above: only who saves a picture loads it.
	const { toBlob } = await import('html-to-image');
	const picture = await toBlob(element, { pixelRatio, backgroundColor: '#fff' });
	if (!picture) throw new Error('The browser made no picture.');
	download(fileName, 'image/png', picture);
}
