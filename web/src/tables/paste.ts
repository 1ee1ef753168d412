// A block from a spreadsheet as one edit: cells of rows that are there change, rows beyond the last become new entries. Its first
// row may name the columns, in any order.
import { pointerTo, sameJson, valueAt, type Json, type JsonObject } from '../document/json';
import { newIds } from '../document/names';
import { setting, type Operation } from '../document/patch';
import { readEntry, type EntryFault, type Names } from '../forms/entry';
import type { Column, Table } from './columns';

export interface PastedFault {
  row: number; // of the block, from 0
  column: Column;
  cell: string;
  fault: EntryFault;
}
export interface Pasted {
  operations: Operation[];
  cells: number; // of entries that were there
  fresh: number; // new entries
  faults: PastedFault[];
}
export interface Pasting {
  document: Json;
  table: Table;
  ids: string[]; // of the rows that are there, as they are shown
  row: number; // where the block begins; ids.length: below the last
  column: number;
  called: (column: Column) => string[]; // what a heading may say for a column
  names: Names;
}

/** The columns that a block's first row names; null where it names none, or something that is no column. */
export function headings(cells: readonly string[], columns: readonly Column[], called: Pasting['called']): (Column | null)[] | null {
  const plain = (text: string) => text.trim().toLowerCase();
  const found = cells.map((cell) => (plain(cell) === '' ? null : (columns.find((column) => [...called(column), column.keys.join('/'), column.field.key].some((one) => plain(one) === plain(cell))) ?? undefined)));
  return found.includes(undefined) || found.every((one) => one === null) ? null : (found as (Column | null)[]);
}

export function pasted(block: readonly string[][], { document, table, ids, row: from, column, called, names }: Pasting): Pasted {
  const named = block.length > 1 ? headings(block[0]!, table.columns, called) : null;
  const columns = named ?? table.columns.slice(column);
  const rows = named ? block.slice(1) : block;
  const all: Pasted = { operations: [], cells: 0, fresh: 0, faults: [] };
  const idFor = newIds(document);
  rows.forEach((cells, i) => {
    const id = ids[from + i];
    const entry: JsonObject = {};
    cells.forEach((cell, j) => {
      const at = columns[j];
      if (!at) return;
      const place = id === undefined ? '' : pointerTo(table.collection, id, ...at.keys);
      const before = id === undefined ? undefined : valueAt(document, place);
      const read = readEntry(document, at.field, cell, before, names);
      if ('fault' in read) all.faults.push({ row: i, column: at, cell, fault: read.fault });
      else if (id === undefined) put(entry, at.keys, read.value);
      else if (!sameJson(read.value, before)) {
        all.operations.push(...setting(document, place, read.value));
        all.cells += 1;
      }
    });
    if (id !== undefined || Object.keys(entry).length === 0) return;
    const name = typeof entry.name === 'string' ? entry.name : table.collection.replace(/s$/, '');
    all.operations.push({ op: 'add', path: pointerTo(table.collection, idFor(name)), value: entry });
    all.fresh += 1;
  });
  return all;
}
function put(entry: JsonObject, keys: readonly string[], value: Json | undefined): void {
  if (value === undefined) return;
  let inside = entry;
  for (const key of keys.slice(0, -1)) inside = (inside[key] ??= {}) as JsonObject;
  inside[keys.at(-1)!] = value;
}
