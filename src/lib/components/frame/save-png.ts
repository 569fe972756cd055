import { handOn } from './share';

/** Twice the screen's pixels: sharp when printed from a phone. */
const pixelRatio = 2;

/** Hands on an element as it stands as a picture. Rejects where the browser cannot make one. */
export async function savePng(element: HTMLElement, fileName: string): ReturnType<typeof handOn> {
	// Here and not above: only who saves a picture loads it.
	const { toBlob } = await import('html-to-image');
	// The library's own way to the faces sets a base address, which the content policy refuses.
	const fontEmbedCSS = await embeddedFaces();
	const picture = await toBlob(element, { pixelRatio, backgroundColor: '#fff', fontEmbedCSS });
	if (!picture) throw new Error('The browser made no picture.');
	return handOn(fileName, 'image/png', picture);
}

/** The faces in use as rules that carry their files: a picture may load nothing. */
async function embeddedFaces(): Promise<string> {
	const isUsed = ({ style }: CSSFontFaceRule) =>
		[...document.fonts].some(
			({ status, weight, unicodeRange }) =>
				status === 'loaded' &&
				weight === style.getPropertyValue('font-weight') &&
				unicodeRange === style.getPropertyValue('unicode-range')
		);
	const rules = [...document.styleSheets].flatMap((sheet) =>
		[...sheet.cssRules].flatMap((rule) =>
			rule instanceof CSSFontFaceRule && isUsed(rule) ? { rule, sheetUrl: sheet.href } : []
		)
	);
	const faces = rules.map(async ({ rule: { style }, sheetUrl }) => {
		const url = /url\("?([^")]+)"?\)/.exec(style.getPropertyValue('src'))?.[1];
		if (!url) return '';
		const file = await fetch(new URL(url, sheetUrl ?? location.href));
		const family = style.getPropertyValue('font-family');
		const weight = style.getPropertyValue('font-weight');
		const range = style.getPropertyValue('unicode-range');
		return `@font-face{font-family:${family};font-weight:${weight};unicode-range:${range};src:url(${await dataUrl(await file.blob())})}`;
	});
	return (await Promise.all(faces)).join('');
}

function dataUrl(file: Blob): Promise<string> {
	return new Promise((resolve, reject) => {
		const reader = new FileReader();
		reader.onload = () => resolve(reader.result as string);
		reader.onerror = () => reject(reader.error ?? new Error('A face could not be read.'));
		reader.readAsDataURL(file);
	});
}
