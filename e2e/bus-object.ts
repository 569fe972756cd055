import { defineInterface, type MessageBus, type MethodDefinition } from 'dbus-native';

/** A property by its D-Bus type (`s` text, `b` boolean, `ay` bytes, ...) and its value. */
type Properties = Record<string, readonly [type: string, value: unknown]>;

/** One object on a bus, with the one interface that it is there for. */
export class BusObject {
	readonly #definition;

	constructor(
		private readonly bus: MessageBus,
		readonly path: string,
		private readonly name: string,
		properties: Properties,
		methods: Record<string, MethodDefinition> = {}
	) {
		const told = Object.entries(properties).map(([key, [type, value]]) => [key, { type, value }]);
		this.#definition = defineInterface({ name, methods, properties: Object.fromEntries(told) });
	}

	/** Tells everybody that it is there now. */
	appear(): void {
		const { impl, descriptor } = this.#definition;
		this.bus.exportInterface(impl, this.path, descriptor);
	}

	vanish(): void {
		this.bus.unexportInterface(this.path, this.name);
	}

	/** Changes properties and tells everybody at once, be they other than before or not. */
	change(values: Record<string, unknown>): void {
		Object.assign(this.#definition.impl, values);
		this.bus.emitPropertiesChanged(this.path, this.name, values);
	}

	/** Changes properties while nobody is told, because nothing is there. */
	become(values: Record<string, unknown>): void {
		Object.assign(this.#definition.impl, values);
	}
}
