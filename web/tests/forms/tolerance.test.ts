// What a number may be off by, in feet and Fahrenheit: 1 ft is 0.3048 m, 9 °F are 5 K (a difference has no freezing point).
import { expect, test } from 'vitest';
import { endShown, readEnds, readShare } from '../../src/forms/tolerance';

test('is read in the unit that stands beside it', () => {
  expect(readEnds('range', '10', '20', 'm', 'imperial')).toEqual({ ends: [3.048, 6.096] });
  expect(readEnds('sides', '1', '1', 'm', 'imperial')).toEqual({ ends: [0.3048, 0.3048] });
  expect(readEnds('range', '32', '212', 'degC', 'imperial')).toEqual({ ends: [0, 100] });
  expect(readEnds('sides', '9', '18', 'degC', 'imperial')).toEqual({ ends: [5, 10] });
  expect(readEnds('sides', '1', '1,5', 'm', 'metric')).toEqual({ ends: [1, 1.5] });
  expect(readEnds('range', '4k7', '5k6', 'ohm', 'metric')).toEqual({ ends: [4700, 5600] });
});
test('reads back as it is shown', () => {
  for (const kind of ['range', 'sides'] as const) for (const unit of ['m', 'degC', 'ohm']) for (const system of ['metric', 'imperial'] as const) {
    const [low, high] = [0.25, 12.5].map((value) => endShown(kind, value, unit, system)) as [string, string];
    const read = readEnds(kind, low, high, unit, system) as { ends: [number, number] };
    expect(read.ends[0], `${kind} ${unit} ${system}`).toBeCloseTo(0.25, 7);
    expect(read.ends[1]).toBeCloseTo(12.5, 7);
  }
});
test('what cannot be read is told, and nothing is told of a half', () => {
  expect(readEnds('range', 'low', '3', 'm', 'metric')).toEqual({ fault: 'no_number' });
  expect(readEnds('range', '1', '1.200', 'm', 'metric')).toEqual({ fault: 'two_ways' });
  expect(readEnds('sides', '1', ' ', 'm', 'metric')).toEqual({ fault: 'both_needed' });
  expect(readEnds('sides', '', '', 'm', 'metric')).toEqual({ ends: null });
  expect(readShare('five')).toEqual({ fault: 'no_number' });
  expect(readShare('120')).toEqual({ fault: 'no_share' });
  expect(readShare('0,5')).toEqual({ share: 0.5 });
});
