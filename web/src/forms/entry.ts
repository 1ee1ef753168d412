// Values as people type them into fields and cells, and as they are shown there. The same for forms, tables and pastes.
import { isObject, type Json, type JsonObject } from '../document/json';
import { entriesOf, nameOfEntry } from '../document/names';
import { numberShown, twoWays, typed, type System } from '../units/show';
import type { Field } from './fields';

/** What was typed: a value (undefined takes it out: not known), or why it cannot stand there. */
export type Read = { value: Json | undefined } | { fault: EntryFault };
export type EntryFault = 'no_number' | 'too_low' | 'too_high' | 'no_whole' | 'no_such_word' | 'no_such_thing' | 'no_flag' | 'too_long' | 'no_none' | 'two_ways' | 'both_needed' | 'no_share';

export interface Names {
  system: System;
  none: string; // how people write that there is none
  yes: string;
  no: string;
  word(word: string): string; // of a closed set, in the language
}

/** The number in a quantity, without its tolerance; null where unknown or none. */
export function nominal(value: Json | undefined): number | null {
  if (typeof value === 'number') return value;
  if (isObject(value) && typeof value.value === 'number') return value.value;
  return null;
}
export const saysNone = (value: Json | undefined) => value === 'none' || (isObject(value) && value.value === 'none');

/** As it stands in a cell. */
export function cellText(document: Json, field: Field, value: Json | undefined, names: Names): string {
  if (value === undefined || value === null) return '';
  if (saysNone(value)) return names.none;
  switch (field.kind) {
    case 'number': {
      const number = nominal(value);
      return number === null ? '' : withoutDoubt(field, numberShown(number, field.unit, names.system), names.system);
    }
    case 'flag': return value === true ? names.yes : names.no;
    case 'word': return names.word(String(value));
    case 'reference': return referenceText(document, field, String(value));
    case 'references': return Array.isArray(value) ? value.map((id) => referenceText(document, field, String(id))).join(', ') : '';
    case 'whole':
    case 'text': return String(value);
    default: return '…';
  }
}
function referenceText(document: Json, field: Field, id: string): string {
  const choice = choices(document, field).find(([one]) => one === id);
  return choice ? choice[1] : id;
}

/** What a reference may name: ids with what people call them. */
export function choices(document: Json, field: Field): [string, string][] {
  return field.refersTo.flatMap((collection) =>
    entriesOf(document, collection)
      .filter(([, entry]) => collection !== 'parts' || field.partKinds.length === 0 || field.partKinds.includes(String(entry.kind)))
      .map(([id, entry]): [string, string] => [id, nameOfEntry(id, entry)]),
  );
}

/** Reads what was typed or pasted for a field that has `before`. */
export function readEntry(document: Json, field: Field, text: string, before: Json | undefined, names: Names): Read {
  const said = text.trim();
  if (said === '') return { value: undefined };
  const same = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();
  if (same(said, names.none) || said === 'none') {
    if (field.mayBeNone) return { value: 'none' };
    if (field.kind !== 'text' && field.kind !== 'reference') return { fault: 'no_none' };
  }
  switch (field.kind) {
    case 'number': return readNumber(field, said, before, names.system);
    case 'whole': {
      if (!/^-?\d+$/.test(said)) return { fault: 'no_whole' };
      return within(field, Number(said));
    }
    case 'flag': {
      if (['true', '1'].includes(said.toLowerCase()) || same(said, names.yes) || same(said, 'yes')) return { value: true };
      if (['false', '0'].includes(said.toLowerCase()) || same(said, names.no) || same(said, 'no')) return { value: false };
      return { fault: 'no_flag' };
    }
    case 'word': {
      const word = field.words.find((one) => same(one, said) || same(names.word(one), said));
      return word ? { value: word } : { fault: 'no_such_word' };
    }
    case 'reference': {
      const id = thingCalled(document, field, said);
      return id ? { value: id } : { fault: 'no_such_thing' };
    }
    case 'references': {
      const ids = said.split(/[,;]/).map((one) => thingCalled(document, field, one.trim()));
      return ids.every((id): id is string => id !== null) ? { value: ids } : { fault: 'no_such_thing' };
    }
    default: return field.longest !== null && [...said].length > field.longest ? { fault: 'too_long' } : { value: said };
  }
}
function thingCalled(document: Json, field: Field, said: string): string | null {
  const all = choices(document, field);
  const byId = all.find(([id]) => id === said);
  const byName = all.filter(([, name]) => name.toLowerCase() === said.toLowerCase());
  return byId?.[0] ?? (byName.length === 1 ? byName[0]![0] : null); // two of one name: nobody guesses
}
function within(field: Field, value: number): Read {
  if (field.low !== null && value < field.low) return { fault: 'too_low' };
  if (field.high !== null && value > field.high) return { fault: 'too_high' };
  return { value };
}
function readNumber(field: Field, said: string, before: Json | undefined, system: System): Read {
  const ways = twoWays(said);
  if (ways) return readTwoWays(field, ways, before, system);
  const value = typed(said, field.unit, system);
  if (value === null) return { fault: 'no_number' };
  const read = within(field, value);
  return 'fault' in read ? read : { value: withNominal(before, value) };
}

/** Where only one of the two numbers can stand in the field it is meant; else the person is asked. */
function readTwoWays(field: Field, { fraction, thousands }: NonNullable<ReturnType<typeof twoWays>>, before: Json | undefined, system: System): Read {
  const [one, other] = [fraction ?? 'none', thousands].map((text) => readNumber(field, text, before, system)) as [Read, Read];
  if ('fault' in one) return fraction === null || !('fault' in other) ? other : one;
  return 'fault' in other ? one : { fault: 'two_ways' };
}
/** A number of the file as it stands in a cell and is read back: 1.234 as 1.2340. */
function withoutDoubt(field: Field, text: string, system: System): string {
  const ways = twoWays(text);
  if (!ways) return text;
  const read = readTwoWays(field, ways, undefined, system);
  return 'fault' in read && read.fault === 'two_ways' ? (ways.fraction ?? text) : text;
}

/** A quantity with another number: origin, note and relative tolerance stay; a range that the number has left goes. */
export function withNominal(before: Json | undefined, value: number): Json {
  if (!isObject(before)) return value;
  const { value: _old, min, max, plus, minus, ...rest } = before;
  const after: JsonObject = { value, ...rest };
  const outside = (typeof min === 'number' && value < min) || (typeof max === 'number' && value > max);
  if (min !== undefined && max !== undefined && !outside) Object.assign(after, { min, max });
  if (plus !== undefined && minus !== undefined) Object.assign(after, { plus, minus });
  return after;
}
