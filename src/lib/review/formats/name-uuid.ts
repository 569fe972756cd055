/** A UUID as its 16 bytes. */
const bytesOf = (uuid: string) =>
	Uint8Array.from(uuid.replaceAll('-', '').match(/../g)!, (hex) => parseInt(hex, 16));

/**
 * The name-based UUID of a name (RFC 9562, version 5): the same name has the same one wherever and whenever it is made.
 *
 * @param space the UUID of the space in which the name is one
 */
export async function nameUuid(space: string, name: string): Promise<string> {
	const named = Uint8Array.from([...bytesOf(space), ...new TextEncoder().encode(name)]);
	const bytes = new Uint8Array(await crypto.subtle.digest('SHA-1', named)).subarray(0, 16);
	bytes[6] = (bytes[6]! & 0x0f) | 0x50;
	bytes[8] = (bytes[8]! & 0x3f) | 0x80;
	const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
	return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
}
