import { expect, test } from 'vitest';
import { csv, readPasted } from '../../src/tables/separated';

test('cells of a spreadsheet: tabs, line ends of any kind, quotation marks', () => {
  expect(readPasted('1\tGate\r\n2\tStore\r\n')).toEqual([['1', 'Gate'], ['2', 'Store']]);
  expect(readPasted('a\t"two\nlines, ""quoted"""\tc')).toEqual([['a', 'two\nlines, "quoted"', 'c']]);
  expect(readPasted('one')).toEqual([['one']]);
  expect(readPasted('5"\t6')).toEqual([['5"', '6']]);
});

test('CSV after RFC 4180, and nothing that a spreadsheet would run', () => {
  expect(csv([['a', 'b,c', 'd"e'], ['', '-1.5', '=1+1']])).toBe('a,"b,c","d""e"\r\n,-1.5,\'=1+1\r\n');
});
