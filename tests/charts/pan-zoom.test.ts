import { describe, expect, it } from 'vitest';
import { keyStep } from '$lib/charts/pan-zoom';

const whole = { fromS: 0, toS: 1600 };
const shown = { fromS: 400, toS: 1200 };

describe('keyStep', () => {
	it('moves back and on by an eighth of what is shown', () => {
		expect(keyStep('ArrowLeft', shown, whole)).toEqual({ fromS: 300, toS: 1100 });
		expect(keyStep('ArrowRight', shown, whole)).toEqual({ fromS: 500, toS: 1300 });
	});

	it('comes closer and goes back around the middle', () => {
		expect(keyStep('+', shown, whole)).toEqual({ fromS: 480, toS: 1120 });
		expect(keyStep('=', shown, whole)).toEqual(keyStep('+', shown, whole));
		expect(keyStep('-', shown, whole)).toEqual({ fromS: 300, toS: 1300 });
	});

	it('shows the whole session at 0', () => {
		expect(keyStep('0', shown, whole)).toEqual(whole);
	});

	it('leaves every other key to the page', () => {
		expect(keyStep(' ', shown, whole)).toBeUndefined();
		expect(keyStep('ArrowDown', shown, whole)).toBeUndefined();
	});
});
