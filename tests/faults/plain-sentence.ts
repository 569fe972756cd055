/**
 * What is wrong with a refusal's message, by a rule that a program can check: whole sentences for a reader, of a
 * length that one reads, without the leavings of a program; undefined where nothing is.
 */
export function unclear(message: string): string | undefined {
	const text = message.trim();
	if (text.length < 25) return `too short: ${message}`;
	if (text.length > 500) return `too long (${text.length}): ${message.slice(0, 500)}`;
	if (!/^["“A-Z]/.test(text) || !/[.!]$/.test(text)) return `no whole sentence: ${message}`;
	if (/\bundefined\b|\[object |\bError:|\bat [\w.]+ \(|Invalid type/.test(text))
		return `a program speaks: ${message}`;
	return undefined;
}
