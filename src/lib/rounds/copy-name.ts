/**
 * A name for a copy that nothing else here has.
 *
 * @example copyName('Bag, 6 x 3', ['Bag, 6 x 3', 'Bag, 6 x 3, copy']) // 'Bag, 6 x 3, copy 2'
 */
export function copyName(name: string, taken: readonly string[]): string {
	const isTaken = new Set(taken);
	const base = `${name.replace(/, copy( \d+)?$/, '')}, copy`;
	let free = base;
	for (let number = 2; isTaken.has(free); number++) free = `${base} ${number}`;
	return free;
}
