/**
 * The quantile of Student's t distribution: the value that t stays under with probability `share`. The
 * distribution is the finite series for whole degrees of freedom (Abramowitz & Stegun, Handbook of Mathematical
 * Functions, 1964, 26.7.3 and 26.7.4; from memory), turned round by halving; exact to 1e-9.
 *
 * @param share 0.5 to 0.9999
 * @param degrees of freedom, whole, 1 or more
 * @example studentsT(0.975, 1) // 12.706
 */
export function studentsT(share: number, degrees: number): number {
	let high = 1;
	while (within(high, degrees) < 2 * share - 1) high *= 2;
	let low = 0;
	while (high - low > 1e-9) {
		const middle = (low + high) / 2;
		if (within(middle, degrees) < 2 * share - 1) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

/** Probability that t lies between -t and t. */
function within(t: number, degrees: number): number {
	const angle = Math.atan(t / Math.sqrt(degrees));
	const cos2 = Math.cos(angle) ** 2;
	const isOdd = degrees % 2 === 1;
	let sum = 0;
	let term = isOdd ? Math.cos(angle) : 1;
	for (let k = isOdd ? 1 : 0; k <= degrees - 2; k += 2) {
		sum += term;
		term *= (cos2 * (k + 1)) / (k + 2);
	}
	const area = Math.sin(angle) * sum;
	return isOdd ? (2 / Math.PI) * (angle + area) : area;
}
