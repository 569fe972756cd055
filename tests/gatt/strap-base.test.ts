import { describe, expect, it } from 'vitest';
import { StrapBase } from '$lib/gatt/strap-base';

/** A strap to which the test hands what arrives. */
class HandedStrap extends StrapBase {
	releases = 0;

	constructor() {
		super('Red corner', false);
	}
	async connect(): Promise<void> {}
	give(ms: number, bytes: DataView): void {
		this.receive(ms, bytes);
	}
	protected release(): void {
		this.releases++;
	}
}

/** Bytes that are not there any more: reading them fails, and no strap sent that. */
function takenAway(): DataView {
	const { buffer } = Uint8Array.of(0x06, 150);
	const bytes = new DataView(buffer);
	structuredClone(buffer, { transfer: [buffer] });
	return bytes;
}

describe('what arrives', () => {
	it('counts as malformed where the packet is, and not where the page itself fails', () => {
		const strap = new HandedStrap();
		let changes = 0;
		strap.onChange(() => changes++);
		strap.give(1000, new DataView(Uint8Array.of(0x06).buffer));
		expect([strap.malformedCount, changes]).toEqual([1, 1]);

		expect(() => strap.give(2000, takenAway())).toThrow(TypeError);
		expect([strap.malformedCount, changes]).toEqual([1, 1]);
	});
});

it('is given back once, however often it is closed', () => {
	const strap = new HandedStrap();
	const told: string[] = [];
	strap.onChange(() => told.push(strap.state.kind));
	strap.close();
	strap.close();

	expect(told).toEqual(['closed']);
	expect(strap.releases).toBe(1);
});
