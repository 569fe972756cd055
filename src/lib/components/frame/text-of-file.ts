/**
 * The text of a file, or undefined where it is too long a text. It is read piece by piece and left at the first that is too
 * much, so that no file costs more memory than the text that can be taken. Rejects where the file cannot be read.
 *
 * @param mostCharacters what can be taken, in UTF-16 units; each is three bytes of a file at most
 */
export async function textOfFile(file: File, mostCharacters: number): Promise<string | undefined> {
	if (file.size > 3 * mostCharacters) return undefined;
	const pieces: string[] = [];
	let length = 0;
	const reader = file.stream().pipeThrough(new TextDecoderStream()).getReader();
	for (let read = await reader.read(); !read.done; read = await reader.read()) {
		pieces.push(read.value);
		length += read.value.length;
		if (length <= mostCharacters) continue;
		await reader.cancel();
		return undefined;
	}
	return pieces.join('');
}
