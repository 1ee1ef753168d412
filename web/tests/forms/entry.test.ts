import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { pointerTo } from '../../src/document/json';
import { cellText, choices, readEntry, withNominal, type Names } from '../../src/forms/entry';
import { SiteFields, type Field } from '../../src/forms/fields';
import { tablesOf } from '../../src/tables/columns';

const read = (path: string) => JSON.parse(readFileSync(new URL(`../../../data/${path}`, import.meta.url), 'utf8'));
const fields = new SiteFields(read('schema/site.schema.json'));
const kiln = read('demo/kiln-yard.site.json');
const names: Names = { system: 'metric', none: 'keines', yes: 'ja', no: 'nein', word: (word) => `<${word}>` };
const field = (...keys: string[]): Field => fields.at(pointerTo(...keys))!.field!;

describe('fields, as the schema has them', () => {
  test('kinds, units and meanings', () => {
    expect(field('zones', 'z1', 'loop', 'eol_ohm')).toMatchObject({ kind: 'number', unit: 'ohm', low: 0, high: 1e7, mayBeNone: false });
    expect(field('detectors', 'd', 'feed', 'fuse_A')).toMatchObject({ kind: 'number', mayBeNone: true });
    expect(field('zones', 'z1', 'partition')).toMatchObject({ kind: 'reference', refersTo: ['partitions'], mayBeNone: false });
    expect(field('zones', 'z1', 'doubled_with')).toMatchObject({ kind: 'reference', refersTo: ['zones'], mayBeNone: true });
    expect(field('cameras', 'c', 'part')).toMatchObject({ refersTo: ['parts'], partKinds: ['camera'] });
    expect(field('zones', 'z1', 'type').words).toContain('entry_exit');
    expect(field('walls', 'w', 'path')).toMatchObject({ kind: 'list', record: 'PlanPoint' });
    expect(fields.at('/zones/z1/loop')!.record).toBe('Loop');
    expect(fields.at('/zones/z1/nothing')).toBeNull();
  });
  test('every place of the demo site is known, and every field says what it means', () => {
    const walk = (value: unknown, keys: (string | number)[]) => {
      const at = fields.at(pointerTo(...keys));
      expect(at, pointerTo(...keys)).not.toBeNull();
      if (at!.field && keys.length > 0) expect(at!.field.meaning, pointerTo(...keys)).not.toBe('');
      if (at!.field?.kind === 'number' || typeof value !== 'object' || value === null || at!.field?.kind === 'references') return;
      for (const [key, inside] of Object.entries(value)) if (!(keys.length === 0 && ['format', 'version', 'revision'].includes(key))) walk(inside, [...keys, key]);
    };
    walk(kiln, []);
  });
  test('every table has columns, and no two tables have one name', () => {
    const tables = tablesOf(fields);
    for (const table of tables) expect(table.columns.length, table.name).toBeGreaterThan(0);
    expect(new Set(tables.map((one) => one.name)).size).toBe(tables.length);
  });
});

describe('what is typed', () => {
  const told = (keys: string[], text: string, before?: unknown) => readEntry(kiln, field(...keys), text, before as never, names);
  test('numbers within their range keep tolerance and origin', () => {
    const before = kiln.zones.z1.loop.eol_ohm;
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], '4k7', before)).toEqual({ value: { ...before, value: 4700 } });
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], '20M', before)).toEqual({ fault: 'too_high' });
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], '-1')).toEqual({ fault: 'too_low' });
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], 'keines')).toEqual({ fault: 'no_none' });
    expect(told(['detectors', 'd_store', 'feed', 'fuse_A'], 'keines')).toEqual({ value: 'none' });
  });
  test('a range that the number has left goes, one that holds it stays', () => {
    expect(withNominal({ value: 5, min: 4, max: 6, origin: 'measured' }, 9)).toEqual({ value: 9, origin: 'measured' });
    expect(withNominal({ value: 5, min: 4, max: 6 }, 4.5)).toEqual({ value: 4.5, min: 4, max: 6 });
  });
  test('thousands or fraction: asked where both can stand in the field, read where only one can, and shown without doubt', () => {
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], '5,600')).toEqual({ fault: 'two_ways' });
    expect(told(['zones', 'z1', 'loop', 'eol_ohm'], '5.600 Ω')).toEqual({ fault: 'two_ways' });
    expect(told(['cameras', 'c_store', 'mount', 'tilt_deg'], '12.345')).toEqual({ value: 12.345 }); // no tilt of 12345 degrees
    expect(cellText(kiln, field('cables', 'k', 'length_m'), 1.234, names)).toBe('1.2340');
    expect(told(['cables', 'k', 'length_m'], '1.2340')).toEqual({ value: 1.234 });
  });
  test('words and things by id or by what people call them; nobody guesses between two of one name', () => {
    expect(told(['zones', 'z1', 'type'], '<hold_up>')).toEqual({ value: 'hold_up' });
    expect(told(['zones', 'z1', 'type'], 'hold_up')).toEqual({ value: 'hold_up' });
    expect(told(['zones', 'z1', 'type'], 'holdup')).toEqual({ fault: 'no_such_word' });
    expect(told(['triggers', 't1', 'zone'], '7 store')).toEqual({ value: 'z7' });
    const twice = { ...kiln, partitions: { a: { name: 'House' }, b: { name: 'House' } } };
    expect(readEntry(twice, field('zones', 'z1', 'partition'), 'House', undefined, names)).toEqual({ fault: 'no_such_thing' });
  });
  test('an empty cell is not known; yes and no are two answers', () => {
    expect(told(['zones', 'z1', 'name'], '  ')).toEqual({ value: undefined });
    expect(told(['channels', 'ch1', 'live_only'], 'nein')).toEqual({ value: false });
    expect(told(['channels', 'ch1', 'live_only'], 'maybe')).toEqual({ fault: 'no_flag' });
  });
  test('every cell of every table of the demo reads back as it is shown', () => {
    let cells = 0;
    for (const table of tablesOf(fields)) {
      for (const [id, entry] of Object.entries((kiln[table.collection] ?? {}) as Record<string, unknown>)) {
        void entry;
        for (const column of table.columns) {
          const value = column.keys.reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], kiln[table.collection][id]) as never;
          const text = cellText(kiln, column.field, value, names);
          if (text === '') continue;
          cells += 1;
          expect(readEntry(kiln, column.field, text, value, names), `${table.name} ${id} ${column.keys.join('/')}`).toEqual({ value });
        }
      }
    }
    expect(cells).toBeGreaterThan(500);
  });
  test('of parts only the kinds that fit are offered', () => {
    expect(choices(kiln, field('cameras', 'c', 'part')).map(([id]) => id)).toEqual(Object.keys(kiln.parts).filter((id) => kiln.parts[id].kind === 'camera'));
  });
});
