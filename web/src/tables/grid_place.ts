// The cell of a grid that has the focus or is being written in. It is held by the id of its entry and not by a row: rows move while
// somebody types, since others add, remove and renumber entries.
import { pointerTo, sameJson, valueAt, type Json } from '../document/json';
import { readEntry, type EntryFault, type Names } from '../forms/entry';
import type { Column } from './columns';

export interface GridPlace {
  id: string;
  row: number; // where the entry stood when the focus came
  column: number;
}
export interface Writing {
  id: string;
  column: number;
  begun: string; // what stood there
  text: string; // what is being typed
}
export type Storing = { kind: 'same' } | { kind: 'gone' } | { kind: 'fault'; place: string; fault: EntryFault } | { kind: 'value'; place: string; value: Json | undefined };

/** Where the entry stands now; where it is gone, the row that it stood in. */
export function rowOf(place: GridPlace, ids: readonly string[]): number {
  const found = ids.indexOf(place.id);
  return found >= 0 ? found : Math.max(0, Math.min(ids.length - 1, place.row));
}
/** The cell at these figures, or the one at the edge. */
export function placeAt(ids: readonly string[], columns: number, row: number, column: number): GridPlace {
  const within = (at: number, count: number) => Math.max(0, Math.min(count - 1, at));
  return { id: ids[within(row, ids.length)] ?? '', row: within(row, ids.length), column: within(column, columns) };
}

/** What is to be stored of what was typed. What nobody has changed is not read: it may be shown shorter than it is. */
export function storing(document: Json, collection: string, column: Column, { id, begun, text }: Writing, names: Names): Storing {
  if (valueAt(document, pointerTo(collection, id)) === undefined) return { kind: 'gone' };
  if (text === begun) return { kind: 'same' };
  const place = pointerTo(collection, id, ...column.keys);
  const before = valueAt(document, place);
  const read = readEntry(document, column.field, text, before, names);
  if ('fault' in read) return { kind: 'fault', place, fault: read.fault };
  return sameJson(read.value, before) ? { kind: 'same' } : { kind: 'value', place, value: read.value };
}
