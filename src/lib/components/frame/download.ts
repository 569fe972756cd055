/** Hands a text or other content to the browser as a file to be saved. */
export function download(fileName: string, mediaType: string, content: BlobPart): void {
	const url = URL.createObjectURL(new Blob([content], { type: mediaType }));
	const link = document.createElement('a');
	link.href = url;
	link.download = fileName;
	link.click();
	URL.revokeObjectURL(url);
}
