import { describe, expect, it } from 'vitest';
import { rateColumns, secondsInUnit, timeColumns, wordsOf } from '$lib/review/csv-columns';

describe('the unit of a time', () => {
	it.each([
		['time (ms)', 0.001],
		['Time [msec]', 0.001],
		['msecs', 0.001],
		['elapsed milliseconds', 0.001],
		['millisec', 0.001],
		['Zeit in Millisekunden', 0.001],
		['Time (min)', 60],
		['mins', 60],
		['Minute', 60],
		['elapsed minutes', 60],
		['Zeit (Minuten)', 60],
		['Time (s)', 1],
		['time', 1],
		['', 1],
		// Both stand in it, so it is written as a clock.
		['time (min:s)', 1],
		['Time [min:sec]', 1],
		['hh:min:ss', 1],
		['minutes and seconds', 1],
		// Only whole words count.
		['terms', 1],
		['minimum', 1]
	])('is told by its header: %s', (header, seconds) => {
		expect(secondsInUnit(header)).toBe(seconds);
	});
});

describe('the column of the heart', () => {
	const names = (...header: string[]) => rateColumns(header).map(({ name }) => name);

	it('is any that says so outright, before those that may be meant', () => {
		expect(names('rate', 'bpm', 'HR')).toEqual(['HR']);
		expect(names('rate', 'bpm')).toEqual(['bpm']);
		expect(names('x', 'rate')).toEqual(['rate']);
		expect(names('x', 'y')).toEqual([]);
		expect(names()).toEqual([]);
	});

	it('is every one that says so equally well, with its place', () => {
		expect(rateColumns(['time', 'HR', 'x', 'Pulse'])).toEqual([
			{ at: 1, name: 'HR' },
			{ at: 3, name: 'Pulse' }
		]);
	});

	it.each([
		...[
			'heart rate',
			'Heartbeat',
			'HR 2',
			'hr1',
			'Puls',
			'Pulsschlag',
			'Pulszahl',
			'Pulsaciones',
			'Pulsazioni'
		],
		...[
			'Herzschlag',
			'Herzfrequenz',
			'Fréquence cardiaque',
			'cardio',
			'Hartslag',
			'Hartfrequentie',
			'Latidos'
		],
		...[
			'Battiti',
			'FC',
			'beat',
			'beats',
			'ppm',
			'HF',
			'Rate (1/min)',
			'Frequenz Wert',
			'frecuencia por minuto'
		]
	])('is known by many words: %s', (name) => {
		expect(names('x', name)).toEqual([name]);
	});

	it.each([
		...['heart rate zone', 'HR variability', 'HRV', 'Herzzone', 'Herzvariabilität', 'heart rate (%)', 'HR %'],
		...['heart RR interval', 'IBI of the heart', 'heart signal quality', 'HR confidence', 'HR status'],
		...[
			'heart contact',
			'HR reserve',
			'HR threshold',
			'target HR',
			'HR alarm',
			'HR change',
			'time of heart rate'
		],
		...[
			'pulse duration',
			'heart kcal',
			'cardio load',
			'cardio power',
			'sampling rate',
			'step rate',
			'breath rate'
		]
	])('is none that has a rate or beats of its own, or is made of the heart’s: %s', (name) => {
		expect(names('x', name)).toEqual([]);
	});

	it('is that of a stretch only where there is no other', () => {
		expect(names('max HR', 'HR')).toEqual(['HR']);
		// Also where the other only may be meant.
		expect(names('average heart rate', 'rate')).toEqual(['rate']);
		expect(names('max HR', 'Ruhepuls')).toEqual(['max HR']);
		expect(names('mean heart rate', 'lowest HR')).toEqual(['mean heart rate', 'lowest HR']);
		// Per minute is no minimum.
		for (const unit of ['/min', ' per min', ' pro Min.', '(1/min)', ' [min]', ' min-1', ' min^-1'])
			expect(names('max HR', `Heart rate${unit}`)).toEqual([`Heart rate${unit}`]);
		expect(names('HR min', 'HR')).toEqual(['HR']);
	});
});

describe('the column of the time', () => {
	const names = (...header: string[]) => timeColumns(header).map(({ name }) => name);

	it('is one that is nothing but the time, before one that speaks of it', () => {
		expect(names('seconds of the run', 'time (s)')).toEqual(['time (s)']);
		expect(timeColumns(['x', 'Elapsed time', 'Timestamp'])).toEqual([
			{ at: 1, name: 'Elapsed time' },
			{ at: 2, name: 'Timestamp' }
		]);
		expect(names('seconds of the run', 'x')).toEqual(['seconds of the run']);
		expect(names('x', 'tempo')).toEqual(['tempo']);
		expect(names('x', 'y')).toEqual([]);
	});

	it.each([
		...[
			'time',
			'Date time',
			'datetime',
			'Zeit',
			'Uhrzeit',
			'Zeitstempel',
			'Temps',
			'Hora',
			'Tiempo',
			't',
			's'
		],
		...[
			'Time (sec)',
			'elapsed_s',
			'Time [hh:mm:ss]',
			'timestamp (UTC)',
			'local time',
			'Zeit (Sek.)',
			'time ISO8601'
		]
	])('is known by many words: %s', (name) => {
		expect(names('x', name)).toEqual([name]);
	});

	it('is that of another clock only where there is no other', () => {
		for (const other of ['Moving time', 'lap time', 'Split time', 'pause time', 'rest time', 'contact time'])
			expect(names(other, 'elapsed seconds')).toEqual(['elapsed seconds']);
		for (const other of ['time zone', 'timezone', 'Zeitzone'])
			expect(names(other, 'run seconds')).toEqual(['run seconds']);
		expect(names('Moving time', 'x')).toEqual(['Moving time']);
	});

	it('is none that measures something else', () => {
		expect(names('time in zone', 'pace (s)', 'speed s')).toEqual([]);
	});
});

describe('the words of a header', () => {
	it('are of small letters without accents, one blank between them', () => {
		expect(wordsOf('HeartRate_(bpm)')).toBe('heart rate bpm');
		expect(wordsOf('  Fréquence   Cardiaque ')).toBe('frequence cardiaque');
		expect(wordsOf('Höhe [m]')).toBe('hohe m');
		expect(wordsOf('HR %')).toBe('hr %');
		expect(wordsOf('HR')).toBe('hr');
		expect(wordsOf('...')).toBe('');
	});

	it('are looked for in its first two hundred letters', () => {
		expect(wordsOf(`${'x'.repeat(200)} HR`)).toBe('x'.repeat(200));
		expect(wordsOf(`${'x'.repeat(197)} HR more`)).toBe(`${'x'.repeat(197)} hr`);
	});
});
