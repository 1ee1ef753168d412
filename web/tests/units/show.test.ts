import { expect, test } from 'vitest';
import { quantity, shownIn, storedFrom, twoWays, typed } from '../../src/units/show';

const en = { language: 'en', system: 'metric' } as const;
const de = { language: 'de', system: 'metric' } as const;
const feet = { language: 'en', system: 'imperial' } as const;
const shown = (...asked: Parameters<typeof quantity>) => quantity(...asked).replaceAll('\u00a0', ' ');

test('numbers are written with three figures, a prefix and the mark of the language', () => {
  expect(shown(3.1035, 'V', en)).toBe('3.1 V');
  expect(shown(0.0535, 'V', en)).toBe('53.5 mV');
  expect(shown(-0.162, 'V', en)).toBe('-162 mV');
  expect(shown(5600, 'ohm', de)).toBe('5,6 kΩ');
  expect(shown(0, 'V', en)).toBe('0 V');
  expect(shown(0, 'ohm', en)).toBe('0 Ω');
  expect(shown(89.888, 'pct', en)).toBe('89.9 %');
  expect(shown(2252800, 'bps', en)).toBe('2.25 Mbit/s');
});

test('feet where a person wants them: a foot is 0.3048 m (international yard and pound agreement, 1959)', () => {
  expect(shown(3.048, 'm', feet)).toBe('10 ft');
  expect(shown(0.09290304, 'm2', feet)).toBe('1 ft²');
  expect(shown(20, 'degC', feet)).toBe('68 °F');
  expect(shown(100, 'px_per_m', feet)).toBe('30.5 px/ft');
  for (const value of [0.05, 1, 12.345]) expect(storedFrom(shownIn(value, 'm', 'imperial'), 'm', 'imperial')).toBeCloseTo(value, 8);
});

test('what people type', () => {
  expect(typed('5600', 'ohm', 'metric')).toBe(5600);
  expect(typed('5k6', 'ohm', 'metric')).toBe(5600); // IEC 60062
  expect(typed('4R7', 'ohm', 'metric')).toBe(4.7);
  expect(typed('5.6k', 'ohm', 'metric')).toBe(5600);
  expect(typed('5,6 kΩ', 'ohm', 'metric')).toBe(5600);
  expect(typed('12,5', 'm', 'metric')).toBe(12.5);
  expect(typed("10' 6\"", 'm', 'metric')).toBeCloseTo(3.2004, 9);
  expect(typed('10', 'm', 'imperial')).toBeCloseTo(3.048, 9);
  expect(typed('3 m', 'm', 'imperial')).toBe(3);
  expect(typed('500 mA'.replace('A', ''), 'A', 'metric')).toBe(0.5);
  for (const wrong of ['', 'five', '1.2.3', '5k6k', '--1', '1e999x', '12 mm']) expect(typed(wrong, 'm', 'metric')).toBeNull();
});

test('thousands or fraction: what is read one way here and another there is not read at all', () => {
  for (const text of ['5,600', '1.200', '1,200', '12.345', '-1.200', '1.234.567', '5,600 Ω', '5.600 ohm', '1.200 m']) {
    expect(typed(text, 'ohm', 'metric'), text).toBeNull();
    expect(twoWays(text), text).not.toBeNull();
  }
  expect(twoWays('5,600')).toEqual({ fraction: '5.6000', thousands: '5600' });
  expect(twoWays('1.234.567')).toEqual({ fraction: null, thousands: '1234567' });
  for (const [text, value] of [['5.6000', 5.6], ['0.305', 0.305], ['0,305', 0.305], ['1200', 1200], ['1.20', 1.2], ['1234.567', 1234.567]] as const) expect(typed(text, 'ohm', 'metric'), text).toBe(value);
});

test('a prefix counts where it is common: minutes are no thousandths of an hour, and a unit with a prefix has its own', () => {
  for (const unit of ['h', 's', 'd', 'years', 'm', 'mm', 'nF', 'kB', 'Mbps', 'deg', 'pct']) for (const text of ['30m', '30 M', '5k', '2u']) expect(typed(text, unit, 'metric') === null || unit === 'm', `${text} in ${unit}`).toBe(true);
  expect(typed('30m', 'A', 'metric')).toBe(0.03);
  expect(typed('1.5', 'h', 'metric')).toBe(1.5);
});
