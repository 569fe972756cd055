// The package's own types are out of reach behind its export map; these are the parts used here.
declare module 'binary-parser' {
	export class Parser {
		static start(): Parser;
		uint8(name: string): this;
		uint16le(name: string): this;
		array(name: string, options: { type: string; readUntil: 'eof' }): this;
		choice(options: { tag: (this: never) => number; choices: Record<number, Parser> }): this;
		parse(bytes: Uint8Array): unknown;
	}
}
