// What is typed goes into the entry that it was typed for, wherever its row has moved to meanwhile.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { applyOperations } from '../../src/document/patch';
import type { Names } from '../../src/forms/entry';
import { SiteFields } from '../../src/forms/fields';
import { tablesOf } from '../../src/tables/columns';
import { placeAt, rowOf, storing, type Writing } from '../../src/tables/grid_place';

const read = (path: string) => JSON.parse(readFileSync(new URL(`../../../data/${path}`, import.meta.url), 'utf8'));
const kiln = read('demo/kiln-yard.site.json');
const names: Names = { system: 'metric', none: 'none', yes: 'yes', no: 'no', word: (word) => word };
const terminations = tablesOf(new SiteFields(read('schema/site.schema.json'))).find((one) => one.name === 'terminations')!;
const eol = terminations.columns.findIndex((column) => column.keys.at(-1) === 'eol_ohm');
const typing: Writing = { id: 'z3', column: eol, begun: '', text: '4k7' };

test('a row that has moved is found again, one that is gone leaves its place', () => {
  const place = placeAt(['z1', 'z2', 'z3'], 5, 2, 9);
  expect(place).toEqual({ id: 'z3', row: 2, column: 4 });
  expect(rowOf(place, ['z3', 'z1', 'z2'])).toBe(0);
  expect(rowOf(place, ['z1', 'z2'])).toBe(1);
  expect(rowOf(place, [])).toBe(0);
});

test('the value is stored by the id of the entry', () => {
  const moved = applyOperations(kiln, [{ op: 'add', path: '/zones/z3/number', value: 99 }, { op: 'remove', path: '/zones/z1' }]);
  for (const document of [kiln, moved]) expect(storing(document, 'zones', terminations.columns[eol]!, typing, names)).toMatchObject({ kind: 'value', place: '/zones/z3/loop/eol_ohm', value: { value: 4700 } });
});

test('nothing is stored for an entry that is gone, nor where nothing was changed', () => {
  const without = applyOperations(kiln, [{ op: 'remove', path: '/zones/z3' }]);
  expect(storing(without, 'zones', terminations.columns[eol]!, typing, names)).toEqual({ kind: 'gone' });
  expect(storing(kiln, 'zones', terminations.columns[eol]!, { ...typing, begun: '4k7' }, names)).toEqual({ kind: 'same' });
  expect(storing(kiln, 'zones', terminations.columns[eol]!, { ...typing, text: '4,700' }, names)).toMatchObject({ kind: 'fault', fault: 'two_ways' });
});
