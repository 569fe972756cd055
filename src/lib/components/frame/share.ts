import { download } from './download';

/** A finger and no mouse: there the share sheet is the way to everybody, and saved files are hard to find again. */
const isHeldInHand = () => matchMedia('(pointer: coarse) and (hover: none)').matches;

/**
 * Hands a file on: through the share sheet on a phone that takes such files, else the browser saves it. Where the
 * sheet refuses, it is saved too; where it is closed by hand, nothing happens. Answers what became of it.
 */
export async function handOn(
	fileName: string,
	mediaType: string,
	content: BlobPart
): Promise<'shared' | 'saved' | 'closed'> {
	const files = [new File([content], fileName, { type: mediaType })];
	if (isHeldInHand() && navigator.canShare?.({ files })) {
		try {
			await navigator.share({ files });
			return 'shared';
		} catch (problem) {
			if ((problem as DOMException).name === 'AbortError') return 'closed';
		}
	}
	download(fileName, mediaType, content);
	return 'saved';
}

/**
 * Hands an address on: through the share sheet on a phone, else into the clipboard. Answers what became of it; where it
 * is 'refused', somebody has to copy it by hand.
 */
export async function handOnLink(
	title: string,
	url: string
): Promise<'shared' | 'copied' | 'closed' | 'refused'> {
	if (isHeldInHand() && navigator.canShare?.({ title, url })) {
		try {
			await navigator.share({ title, url });
			return 'shared';
		} catch (problem) {
			if ((problem as DOMException).name === 'AbortError') return 'closed';
		}
	}
	try {
		await navigator.clipboard.writeText(url);
		return 'copied';
	} catch {
		return 'refused';
	}
}
