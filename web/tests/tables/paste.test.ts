// A block from a spreadsheet: into rows that are there, below them, and with the names of its columns above.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { JsonObject } from '../../src/document/json';
import { SiteFields } from '../../src/forms/fields';
import { tablesOf, type Column } from '../../src/tables/columns';
import { pasted } from '../../src/tables/paste';

const schema = JSON.parse(readFileSync(new URL('../../../data/schema/site.schema.json', import.meta.url), 'utf8')) as JsonObject;
const tables = tablesOf(new SiteFields(schema));
const names = { system: 'metric' as const, none: 'none', yes: 'yes', no: 'no', word: (word: string) => word };
const called = (column: Column) => [column.keys.at(-1)!.replaceAll('_', ' ')];
const at = (name: string, document: JsonObject, ids: string[], row: number, column: number) => ({ document, table: tables.find((one) => one.name === name)!, ids, row, column, called, names });

test('rows beyond the last become entries with ids of their own, in one edit', () => {
  const document = { zones: { shop: { number: 1, name: 'Shop' } } };
  const { operations, cells, fresh, faults } = pasted([['1', 'Front'], ['2', 'Shop'], ['3', 'Shop']], at('zones', document, ['shop'], 0, 0));
  expect(faults).toEqual([]);
  expect([cells, fresh]).toEqual([1, 2]);
  expect(operations).toEqual([
    { op: 'add', path: '/zones/shop/name', value: 'Front' },
    { op: 'add', path: '/zones/shop_2', value: { number: 2, name: 'Shop' } },
    { op: 'add', path: '/zones/shop_3', value: { number: 3, name: 'Shop' } },
  ]);
});

test('a first row that names columns puts each cell where it belongs, nested ones too', () => {
  const document = { cables: { k1: { name: 'Cable 1' } } };
  const { operations } = pasted([['loop/eol_ohm', 'cable', 'name'], ['5k6', 'Cable 1', 'Store']], at('terminations', document, [], 0, 0));
  expect(operations).toEqual([{ op: 'add', path: '/zones/store', value: { name: 'Store', loop: { eol_ohm: 5600, cable: 'k1' } } }]);
});

test('one bad cell, and nothing is done with it: its row, column and what it said are told', () => {
  const { faults } = pasted([['up Mbps', 'name'], ['fast', 'Line']], at('uplinks', {}, [], 0, 0));
  expect(faults.map(({ row, column, cell, fault }) => [row, column.field.key, cell, fault])).toEqual([[0, 'up_Mbps', 'fast', 'no_number']]);
});
